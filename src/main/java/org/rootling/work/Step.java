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
 * @param outdoors whether rain or frost stops it
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
        @Nullable BigDecimal guessMinutes,
        @Nullable String caution,
        boolean builtIn,
        boolean withdrawn,
        int version) {
    public Step {
        after = List.copyOf(after);
    }
}
