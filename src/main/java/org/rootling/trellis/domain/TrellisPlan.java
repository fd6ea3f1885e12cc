package org.rootling.trellis.domain;

import java.util.UUID;
import org.rootling.trellis.calc.TrellisSpec;

/** The trellis plan of a block as kept. */
public record TrellisPlan(UUID id, UUID blockId, TrellisSpec spec, int version) {}
