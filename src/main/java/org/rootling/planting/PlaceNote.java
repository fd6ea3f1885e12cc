package org.rootling.planting;

import java.time.LocalDate;
import java.util.UUID;

/** Why a place stayed empty, or what was found there while planting. */
public record PlaceNote(UUID rowId, int place, String what, LocalDate on, UUID by) {}
