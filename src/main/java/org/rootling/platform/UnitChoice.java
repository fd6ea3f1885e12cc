package org.rootling.platform;

import java.util.function.Supplier;
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

    /** What is said to a reader of these units, whoever reads now. */
    public static <T> T in(UnitChoice units, Supplier<T> what) {
        UnitChoice before = CURRENT.get();
        CURRENT.set(units);
        try {
            return what.get();
        } finally {
            if (before == null) {
                CURRENT.remove();
            } else {
                CURRENT.set(before);
            }
        }
    }
}
