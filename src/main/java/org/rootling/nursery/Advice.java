package org.rootling.nursery;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/**
 * Something that gains time for a hold.
 *
 * @param action "water" or "move"
 * @param where the store to move to; empty for watering
 * @param runsOutOn when the hold would then run out; null for not within a year
 * @param gainDays how many days are gained; null when it then does not run out within a year
 */
public record Advice(
        String action,
        String where,
        @Nullable LocalDate runsOutOn,
        @Nullable Integer gainDays) {}
