package org.rootling.nursery;

/** Where vines wait. Each kind has its own limits; see {@code shared/reference/store-limits.csv}. */
public enum StoreKind {
    /** A heel-in bed in the open. */
    HEELED_IN(true, true),
    /** A heel-in bed under a roof, tunnel or fleece that keeps rain off. */
    UNDER_COVER(true, false),
    /** A cold store with its own set temperature. */
    COLD_STORE(false, false),
    /** A shed or cellar without soil. */
    SHED(false, false),
    /** Potted on: spares that grow in pots. */
    POTTED(false, true);

    private final boolean soil;
    private final boolean rain;

    StoreKind(boolean soil, boolean rain) {
        this.soil = soil;
        this.rain = rain;
    }

    /** Whether roots stand in a bed of soil. */
    public boolean hasSoil() {
        return soil;
    }

    /** Whether rain reaches it. */
    public boolean rainReaches() {
        return rain;
    }
}
