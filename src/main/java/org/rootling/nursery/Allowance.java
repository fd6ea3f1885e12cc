package org.rootling.nursery;

import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/**
 * One of the things that run out while vines wait.
 *
 * @param kind "days", "warmth" or "dryness"
 * @param used how much is used at the start of the day asked, in {@code unit}
 * @param allowed how much there is
 * @param unit "days", "degree days", "mm" or "hours"
 * @param share used over allowed
 * @param runsOutOn the first day that begins with it used up; with a spread over years the earliest; null when it does
 *     not run out within a year or cannot be told
 * @param runsOutMiddle the middle of the spread
 * @param runsOutLatest the latest of the spread
 * @param basis what the days rest on: "calendar", "store-temperature", "recorded", "forecast", "earlier-years",
 *     "last-fortnight" or "none"
 * @param years over how many earlier years the spread goes; 0 without one
 * @param estimatedDays how many past days had no weather record and were filled in
 * @param level how pressing this allowance alone is
 */
public record Allowance(
        String kind,
        double used,
        double allowed,
        String unit,
        double share,
        @Nullable LocalDate runsOutOn,
        @Nullable LocalDate runsOutMiddle,
        @Nullable LocalDate runsOutLatest,
        String basis,
        int years,
        int estimatedDays,
        Level level) {}
