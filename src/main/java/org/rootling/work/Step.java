package org.rootling.work;

import java.math.BigDecimal;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * One kind of work.
 *
 * @param code fixed, for instance {@code PLANT}
 * @param name in the reader's language
 * @param wholeRow done row by row rather than place by place
 * @param peopleLeast fewest people it takes
 * @param peopleMost most people that can work on one row of it
 * @param tool what it needs one of
 * @param skill what its people must be able to do
 * @param after codes of the steps that come before it on the same row
 * @param waitDays days it waits after those
 * @param outdoors whether the weather stops it
 * @param limits of the weather it stands; what is not told is as for the vineyard
 * @param guessMinutes the grower's own guess of person minutes for one place; null until told
 * @param caution key of the caution shown with it, if it can hurt
 */
public record Step(
        String code,
        String name,
        boolean wholeRow,
        int peopleLeast,
        int peopleMost,
        @Nullable String tool,
        @Nullable String skill,
        List<String> after,
        int waitDays,
        boolean outdoors,
        Limits limits,
        @Nullable BigDecimal guessMinutes,
        @Nullable String caution,
        boolean builtIn,
        boolean withdrawn,
        int version) {
    public Step {
        after = List.copyOf(after);
    }

    /**
     * Weather that stops a step. Each may be null: then the vineyard's own limit holds, of which there is none for wind.
     *
     * @param rainMm stopped by more rain, mm a day
     * @param lowC stopped by a colder night, °C
     * @param windMs stopped by a higher mean wind of the day at 2 m, m/s
     */
    public record Limits(
            @Nullable BigDecimal rainMm,
            @Nullable BigDecimal lowC,
            @Nullable BigDecimal windMs) {
        /** As for the vineyard. */
        public static final Limits NONE = new Limits(null, null, null);
    }
}
