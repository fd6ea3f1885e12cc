package org.rootling.platform;

import java.util.UUID;
import java.util.function.Supplier;
import org.jspecify.annotations.Nullable;

/**
 * The vineyard and the account that the current thread works for. The data source tells PostgreSQL both at every
 * checkout of a connection, so they must be set before a transaction begins and not change within it.
 */
public final class Tenancy {

    private record Scope(@Nullable UUID vineyard, @Nullable UUID account) {}

    private static final Scope NOBODY = new Scope(null, null);
    private static final ThreadLocal<Scope> CURRENT = ThreadLocal.withInitial(() -> NOBODY);

    private Tenancy() {}

    /** The current vineyard's id. */
    public static UUID require() {
        UUID vineyard = CURRENT.get().vineyard();
        if (vineyard == null) {
            throw new IllegalStateException("no vineyard is chosen on this thread");
        }
        return vineyard;
    }

    /** The current vineyard's id, or null where none is chosen. */
    public static @Nullable UUID vineyardOrNull() {
        return CURRENT.get().vineyard();
    }

    /** The current account's id, or null for jobs and visitors. */
    public static @Nullable UUID accountOrNull() {
        return CURRENT.get().account();
    }

    /** Sets both for the rest of the request; the web shell calls {@link #clear()} when it ends. */
    public static void set(@Nullable UUID vineyard, @Nullable UUID account) {
        CURRENT.set(new Scope(vineyard, account));
    }

    /** Forgets both. */
    public static void clear() {
        CURRENT.remove();
    }

    /** Runs the work for a vineyard and account, then goes back to what was before. */
    public static <T extends @Nullable Object> T as(@Nullable UUID vineyard, @Nullable UUID account, Supplier<T> work) {
        Scope before = CURRENT.get();
        CURRENT.set(new Scope(vineyard, account));
        try {
            return work.get();
        } finally {
            CURRENT.set(before);
        }
    }

    /** Runs the work for a vineyard and account, then goes back to what was before. */
    public static void run(@Nullable UUID vineyard, @Nullable UUID account, Runnable work) {
        as(vineyard, account, () -> {
            work.run();
            return Boolean.TRUE;
        });
    }
}
