package org.rootling.planting;

import java.util.List;

/** How a present vine was last seen. */
public enum VineState {
    /** Planted, not seen to grow yet. */
    PLANTED,
    GROWING,
    WEAK,
    /** Alive as far as known, but without growth where others grow. */
    NOT_MOVING,
    DEAD,
    /** Its place was found empty. */
    MISSING;

    /** What can be said of a vine on a walk. */
    public static final List<VineState> SEEN = List.of(GROWING, WEAK, NOT_MOVING, DEAD, MISSING);

    /** Whether the vine still lives as far as known. */
    public boolean alive() {
        return switch (this) {
            case PLANTED, GROWING, WEAK, NOT_MOVING -> true;
            case DEAD, MISSING -> false;
        };
    }

    /** Name in message keys and style classes, such as not-moving. */
    public String key() {
        return name().toLowerCase(java.util.Locale.ROOT).replace('_', '-');
    }
}
