package org.rootling.ground.domain;

/** How a boundary was found. */
public enum BoundarySource {
    TYPED,
    TAPE,
    WALKED,
    IMPORTED,
    SPLIT
}
