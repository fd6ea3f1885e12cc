package org.rootling.weather.domain;

import java.util.UUID;

/**
 * A stored day.
 *
 * @param forecast whether it was foretold
 * @param source words for where it came from
 */
public record DayRecord(UUID id, DayValues values, boolean forecast, String source, int version) {}
