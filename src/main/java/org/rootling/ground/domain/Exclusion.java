package org.rootling.ground.domain;

import java.util.List;
import java.util.UUID;
import org.rootling.ground.Point;

/** A patch in a block that no row may touch; corners in metres. */
public record Exclusion(UUID id, String name, List<Point> corners) {}
