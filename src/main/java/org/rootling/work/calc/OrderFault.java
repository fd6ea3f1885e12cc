package org.rootling.work.calc;

import java.util.List;

/**
 * Why an order can never be fulfilled.
 *
 * @param names what it is about: the jobs of a circle in order, or the job and what it lacks
 */
public record OrderFault(Kind kind, List<String> names) {
    public OrderFault {
        names = List.copyOf(names);
    }

    static OrderFault of(Kind kind, String... names) {
        return new OrderFault(kind, List.of(names));
    }

    /** The kinds of impossible order. */
    public enum Kind {
        TOO_MANY_PEOPLE,
        SAME_ID_TWICE,
        UNKNOWN_JOB,
        UNKNOWN_TOOL,
        NO_SUCH_TOOL_LEFT,
        UNKNOWN_PERSON,
        CIRCLE,
        SKILL_NOBODY_HAS,
        TOO_FEW_PEOPLE,
        PEOPLE_NEVER_TOGETHER,
        HOURS_DO_NOT_DIVIDE,
        TOO_FAR_AHEAD,
        PIN_SKILL,
        PIN_ABSENT,
        PIN_TOO_EARLY,
        PIN_MORE_THAN_WORK
    }
}
