package org.rootling.ground;

import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Something that stands on a block's plan beside its rows, such as a bed; any module above may add some. */
public interface PlanPins {

    /**
     * One of them.
     *
     * @param at metres in the block's plane; what lies beyond the drawing is drawn at its edge
     * @param name written beside it
     * @param word what such pins are, for the legend
     * @param href page of it, or null
     */
    record Pin(Point at, String name, String word, @Nullable String href) {}

    /** The pins of a block. */
    List<Pin> pins(UUID blockId);
}
