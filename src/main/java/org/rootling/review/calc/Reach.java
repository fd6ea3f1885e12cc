package org.rootling.review.calc;

import java.util.ArrayList;
import java.util.List;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.jspecify.annotations.Nullable;

/**
 * Which vines will reach a wire before growth ends.
 *
 * <p>Each vine is taken to grow from its last look on at the pace of one more vine drawn from those measured twice: the
 * prediction interval of a normal sample ({@link Sample#nextBelow}). What a vine did before does not change its own
 * forecast, and the pace of the last weeks is kept up to the end, though growth slows towards autumn: so the answer errs
 * on the hopeful side.
 *
 * @param vines vines judged
 * @param there of these, there already
 * @param will more than 97.5 % sure to reach it
 * @param open neither sure
 * @param wont more than 97.5 % sure not to reach it
 * @param missing expected number that will not reach it
 * @param missingLow lower end of where that number lies with 95 % confidence
 * @param missingHigh upper end
 * @param unlikely vines with less than an even chance, the least likely first
 */
public record Reach(
        int vines,
        int there,
        int will,
        int open,
        int wont,
        double missing,
        double missingLow,
        double missingHigh,
        List<Chance> unlikely) {

    private static final double SURE = 0.975;
    private static final double CONFIDENCE = 0.95;

    public Reach {
        unlikely = List.copyOf(unlikely);
    }

    /** The vine at an index of the list given, and its chance to reach the wire. */
    public record Chance(int vine, double chance) {}

    /**
     * The forecast; null where the pace is not known.
     *
     * @param wireCm height of the wire above the soil, cm
     * @param endDay last day of growth, counted as the looks are
     */
    public static @Nullable Reach of(List<Growth.Vine> vines, @Nullable Sample pace, double wireCm, int endDay) {
        if (pace == null) {
            return null;
        }
        double half = pace.meanHalfWidth(CONFIDENCE);
        int there = 0;
        int will = 0;
        int wont = 0;
        int open = 0;
        double missing = 0;
        double own = 0;
        double slow = 0;
        double fast = 0;
        List<Chance> unlikely = new ArrayList<>();
        for (int i = 0; i < vines.size(); i++) {
            Growth.Look last = vines.get(i).last();
            double days = Math.max(0, endDay - last.day());
            double falls = missed(pace, wireCm - last.cm(), days, 0);
            missing += falls;
            own += falls * (1 - falls);
            slow += missed(pace, wireCm - last.cm(), days, -half);
            fast += missed(pace, wireCm - last.cm(), days, half);
            if (last.cm() >= wireCm) {
                there++;
            } else if (falls >= SURE) {
                wont++;
            } else if (falls <= 1 - SURE) {
                will++;
            } else {
                open++;
            }
            if (falls > 0.5) {
                unlikely.add(new Chance(i, 1 - falls));
            }
        }
        unlikely.sort(java.util.Comparator.comparingDouble(Chance::chance));
        // The vines' own luck, and beside it the pace that is only known to within its interval, for all of them alike.
        double z = NormalDistribution.of(0, 1).inverseSurvivalProbability((1 - CONFIDENCE) / 2);
        double spread = Math.hypot(z * Math.sqrt(own), (slow - fast) / 2);
        return new Reach(
                vines.size(),
                there,
                will,
                open,
                wont,
                missing,
                Math.max(0, missing - spread),
                Math.min(vines.size() - there, missing + spread),
                unlikely);
    }

    /** Chance not to grow the cm that are wanting in so many days, with the mean pace moved by so much. */
    private static double missed(Sample pace, double wanting, double days, double shift) {
        if (wanting <= 0) {
            return 0;
        }
        return days == 0 ? 1 : pace.nextBelow(wanting / days - shift);
    }
}
