package org.rootling.nursery.calc;

import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** What came, counted against what was ordered. */
public final class DeliveryCheck {

    /** How a delivered line stands to the order. */
    public enum Verdict {
        /** Right kind, and the order line is now exactly filled. */
        AS_ORDERED,
        /** Right kind, but the order line is not filled yet. */
        SHORT,
        /** Right kind, more than ordered. */
        OVER,
        /** Right variety on another rootstock or of another clone. */
        SUBSTITUTE,
        /** Another variety than ordered. */
        WRONG_VARIETY,
        /** There was no order line for it. */
        NOT_ORDERED
    }

    /** What kind of vine. */
    public record Kind(String variety, @Nullable String cloneName, String rootstock) {}

    private DeliveryCheck() {}

    /**
     * Judges a line.
     *
     * @param ordered the kind on the order line, null if there is none
     * @param orderedVines how many were ordered on it
     * @param cameBefore how many of the right kind came on it earlier
     * @param came the kind that came
     * @param counted how many came now
     */
    public static Verdict judge(@Nullable Kind ordered, int orderedVines, int cameBefore, Kind came, int counted) {
        if (ordered == null) {
            return Verdict.NOT_ORDERED;
        }
        if (!same(ordered.variety(), came.variety())) {
            return Verdict.WRONG_VARIETY;
        }
        boolean cloneDiffers = ordered.cloneName() != null && !same(ordered.cloneName(), came.cloneName());
        if (cloneDiffers || !same(ordered.rootstock(), came.rootstock())) {
            return Verdict.SUBSTITUTE;
        }
        int difference = Integer.compare(cameBefore + counted, orderedVines);
        if (difference == 0) {
            return Verdict.AS_ORDERED;
        }
        return difference < 0 ? Verdict.SHORT : Verdict.OVER;
    }

    private static boolean same(String a, @Nullable String b) {
        return b != null && a.strip().toLowerCase(Locale.ROOT).equals(b.strip().toLowerCase(Locale.ROOT));
    }
}
