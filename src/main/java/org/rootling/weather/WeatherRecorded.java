package org.rootling.weather;

import java.time.LocalDate;
import java.util.UUID;
import org.rootling.platform.VineyardEvent;

/**
 * Days were recorded, corrected or foretold.
 *
 * @param first first of them
 * @param last last of them
 */
public record WeatherRecorded(UUID vineyardId, LocalDate first, LocalDate last) implements VineyardEvent {}
