package org.rootling.nursery;

/** Colour of a variety's berries. */
public enum VineColour {
    WHITE,
    GREY,
    ROSE,
    BLACK
}
