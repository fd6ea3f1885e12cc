package org.rootling.training.calc;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * A growth stage of the grapevine on the BBCH scale. Only codes that the scale lists for grapevine exist.
 *
 * <p>Source: Lorenz, D. H. et al. 1995, Phenological growth stages of the grapevine, Aust. J. Grape Wine Res. 1:100-103
 * (code list read in an encyclopedia copy, see shared/reference/growth-stages.csv).
 *
 * @param code two digits: the first is the principal stage, the second the secondary one
 */
public record Bbch(int code) implements Comparable<Bbch> {

    private static final int[] CODES = {
        0, 1, 3, 5, 7, 9, 11, 12, 13, 14, 15, 16, 17, 18, 19, 53, 55, 57, 60, 61, 62, 63, 64, 65, 66, 67, 68, 69, 71,
        73, 75, 77, 79, 81, 83, 85, 89, 91, 92, 93, 95, 97
    };

    /** Every stage in the order of the year. */
    public static final List<Bbch> ALL =
            Arrays.stream(CODES).mapToObj(Bbch::new).toList();

    /** Bud burst: green tips plainly seen. */
    public static final Bbch BUD_BURST = new Bbch(9);

    public Bbch {
        if (!exists(code)) {
            throw new IllegalArgumentException("no grapevine stage has the BBCH code " + code);
        }
    }

    /** Whether the scale lists this code for grapevine. */
    public static boolean exists(int code) {
        return Arrays.binarySearch(CODES, code) >= 0;
    }

    /** Reads "9", "09" or "BBCH 09"; empty where that is no stage of the grapevine. */
    public static Optional<Bbch> parse(String text) {
        String digits = text.strip().replaceFirst("(?i)^bbch\\s*", "");
        if (!digits.matches("\\d{1,2}")) {
            return Optional.empty();
        }
        int code = Integer.parseInt(digits);
        return exists(code) ? Optional.of(new Bbch(code)) : Optional.empty();
    }

    /** Whether a vine at this stage has passed, or stands at, the other one. */
    public boolean hasReached(Bbch other) {
        return code >= other.code;
    }

    /** The first digit, 0 to 9. */
    public int principal() {
        return code / 10;
    }

    @Override
    public int compareTo(Bbch other) {
        return Integer.compare(code, other.code);
    }

    /** Two digits, as the scale prints it. */
    @Override
    public String toString() {
        return code < 10 ? "0" + code : Integer.toString(code);
    }
}
