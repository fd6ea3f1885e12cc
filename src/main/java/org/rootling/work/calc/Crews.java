package org.rootling.work.calc;

/** Splits work into quarter hours of crews between a least and a most. */
final class Crews {
    private Crews() {}

    /** Whether work can be made up of crews of {@code min} to {@code max} people, a quarter each. */
    static boolean fits(int work, int min, int max) {
        if (work == 0) {
            return true;
        }
        if (max < min || work < min) {
            return false;
        }
        int steps = (work + max - 1) / max;
        return (long) steps * min <= work;
    }

    /** The largest crew of at most {@code most} that leaves a rest which can still be made up; 0 if none. */
    static int size(int work, int min, int max, int most) {
        for (int n = Math.min(most, work); n >= min; n--) {
            if (fits(work - n, min, max)) {
                return n;
            }
        }
        return 0;
    }
}
