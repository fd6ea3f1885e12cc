package org.rootling.review.calc;

import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Lives of one group of vines summed by day since planting: how many died on that day, and how many were last seen
 * alive on it (censored: what came after is not known). Not safe for use by several threads.
 */
public final class LifeTable {

    private final TreeMap<Integer, long[]> byDay = new TreeMap<>();
    private long lives;
    private long deaths;

    /**
     * Adds {@code count} equal lives.
     *
     * @param days whole days from planting to death, or to the last look at a living vine; 0 or more
     */
    public LifeTable add(int days, boolean died, long count) {
        if (days < 0 || count < 0) {
            throw new IllegalArgumentException(count + " lives of " + days + " days");
        }
        if (count > 0) {
            byDay.computeIfAbsent(days, d -> new long[2])[died ? 0 : 1] += count;
            lives += count;
            deaths += died ? count : 0;
        }
        return this;
    }

    public long lives() {
        return lives;
    }

    public long deaths() {
        return deaths;
    }

    /** The longest life known, in days; 0 for an empty table. */
    public int lastDay() {
        return byDay.isEmpty() ? 0 : byDay.lastKey();
    }

    /** By day: deaths, then censored. */
    SortedMap<Integer, long[]> byDay() {
        return byDay;
    }
}
