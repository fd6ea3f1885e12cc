package org.rootling.work.domain;

import java.time.LocalDate;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.rootling.work.calc.NoShow;

/**
 * Whether it will be done in time, from so many played seasons.
 *
 * @param lots by lot, the least likely first
 * @param half the date by which half of the seasons were done; null if fewer ever were
 * @param most the same for 80 %
 * @param nearlyAll the same for 95 %
 * @param curve for each day from the start on, the share of seasons that were done by then
 * @param helps what would change it, the most helpful first
 * @param weatherDays days that the chance of a lost day rests on
 * @param noShow how often people do not come, as typed and as the record has it; null in answers from before it was learned
 * @param unrated steps left out because nobody said how long they take
 * @param unplanned codes of lots that stand in a hold without an open planting task
 */
public record Outlook(
        List<LotChance> lots,
        @Nullable LocalDate half,
        @Nullable LocalDate most,
        @Nullable LocalDate nearlyAll,
        List<Double> curve,
        List<Help> helps,
        int weatherDays,
        @Nullable NoShow noShow,
        List<String> unrated,
        List<String> unplanned) {
    public Outlook {
        lots = List.copyOf(lots);
        curve = List.copyOf(curve);
        helps = List.copyOf(helps);
        unrated = List.copyOf(unrated);
        unplanned = List.copyOf(unplanned);
    }

    /**
     * One lot.
     *
     * @param vines still to plant
     * @param runsOut the day by which its holds want it planted; null when nothing presses
     * @param chance that it is planted by then; null when nothing presses
     */
    public record LotChance(
            String lot,
            int vines,
            @Nullable LocalDate runsOut,
            @Nullable Double chance,
            @Nullable LocalDate half,
            @Nullable LocalDate most,
            @Nullable LocalDate nearlyAll) {}

    /**
     * Something that might help.
     *
     * @param what HELPER_DAY, HELPER_WEEKLY, TOOL, COLD_STORE or BLOCK_FIRST
     * @param about the date, weekday, tool, lot or block
     * @param where the store, for a move
     * @param vinesMore how many more vines are planted in time, on average
     * @param daysSooner how many days sooner 80 % of the seasons are done; null where they never are
     * @param mostThen the date reached with 80 % then
     */
    public record Help(
            String what,
            String about,
            String where,
            double vinesMore,
            @Nullable Integer daysSooner,
            @Nullable LocalDate mostThen) {}
}
