package org.rootling.platform;

import org.jspecify.annotations.Nullable;

/** The reader's units, set for the request by the web shell. */
public enum UnitChoice {
    METRIC,
    US;

    private static final ThreadLocal<@Nullable UnitChoice> CURRENT = new ThreadLocal<>();

    public static UnitChoice current() {
        UnitChoice choice = CURRENT.get();
        return choice == null ? METRIC : choice;
    }

    public static void set(UnitChoice choice) {
        CURRENT.set(choice);
    }

    public static void clear() {
        CURRENT.remove();
    }
}
