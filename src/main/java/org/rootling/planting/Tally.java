package org.rootling.planting;

import java.time.LocalDate;
import java.util.Collection;
import java.util.EnumMap;
import java.util.Map;
import org.jspecify.annotations.Nullable;

/**
 * How many present vines of each state there are.
 *
 * @param counts every state, zero included
 * @param firstPlanted day the first of them was planted; null without vines
 * @param lastPlanted day the last of them was planted; null without vines
 */
public record Tally(
        Map<VineState, Integer> counts,
        @Nullable LocalDate firstPlanted,
        @Nullable LocalDate lastPlanted) {

    /** No vines. */
    public static final Tally NONE = new Tally(Map.of(), null, null);

    public Tally {
        EnumMap<VineState, Integer> all = new EnumMap<>(VineState.class);
        for (VineState state : VineState.values()) {
            all.put(state, counts.getOrDefault(state, 0));
        }
        counts = java.util.Collections.unmodifiableMap(all);
    }

    public int of(VineState state) {
        return counts.getOrDefault(state, 0);
    }

    /** Present vines, dead and missing ones included. */
    public int present() {
        int present = 0;
        for (int count : counts.values()) {
            present += count;
        }
        return present;
    }

    /** Present vines that live as far as known. */
    public int alive() {
        return present() - of(VineState.DEAD) - of(VineState.MISSING);
    }

    /** Both together. */
    public Tally plus(Tally other) {
        EnumMap<VineState, Integer> sum = new EnumMap<>(VineState.class);
        for (VineState state : VineState.values()) {
            sum.put(state, of(state) + other.of(state));
        }
        return new Tally(sum, earlier(firstPlanted, other.firstPlanted), later(lastPlanted, other.lastPlanted));
    }

    /** All together. */
    public static Tally sum(Collection<Tally> tallies) {
        return tallies.stream().reduce(NONE, Tally::plus);
    }

    private static @Nullable LocalDate earlier(@Nullable LocalDate a, @Nullable LocalDate b) {
        return a == null ? b : b == null || a.isBefore(b) ? a : b;
    }

    private static @Nullable LocalDate later(@Nullable LocalDate a, @Nullable LocalDate b) {
        return a == null ? b : b == null || a.isAfter(b) ? a : b;
    }
}
