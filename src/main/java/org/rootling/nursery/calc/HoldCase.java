package org.rootling.nursery.calc;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A hold as the clock sees it.
 *
 * @param since the day the vines were placed
 * @param before what they went through earlier, as far as known
 * @param limits what the store allows
 * @param waterings waterings since, in any order; those before {@code since} or after the day asked are left out
 */
public record HoldCase(LocalDate since, List<Before> before, Limits limits, List<Watering> waterings) {

    public HoldCase {
        before = List.copyOf(before);
        waterings = List.copyOf(waterings);
    }

    /**
     * An earlier stretch of waiting.
     *
     * @param where words for it, such as the store's name
     * @param days its length, days
     * @param weight how much a day there counts against a day here
     * @param degreeDays warmth taken up there, °C·day, 0 if not known
     */
    public record Before(String where, double days, double weight, double degreeDays) {
        public Before {
            if (!(days >= 0) || !(weight >= 0) || !(degreeDays >= 0)) {
                throw new IllegalArgumentException("history cannot be negative");
            }
        }
    }

    /**
     * A watering.
     *
     * @param date its day
     * @param mm depth over the bed, mm; null when not measured, which counts as filled up
     */
    public record Watering(LocalDate date, @Nullable Double mm) {
        public Watering {
            if (mm != null && !(mm >= 0)) {
                throw new IllegalArgumentException("water cannot be negative");
            }
        }
    }
}
