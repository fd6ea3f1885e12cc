package org.rootling.training;

import java.math.BigDecimal;
import java.time.MonthDay;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.training.calc.CareRule;
import org.rootling.training.calc.Timing;

/**
 * An item of the year's checklist.
 *
 * @param code short name that stays when the item is renamed
 * @param afterItemId item that has to be finished before this one is due, if any
 * @param caution code of a caution in shared/reference/cautions.csv
 * @param step work step whose field log ticks this item by itself
 * @param source where the advice comes from
 * @param howKnown read, memory, common practice, own
 */
public record CareItem(
        UUID id,
        String code,
        int position,
        String name,
        CareRule rule,
        @Nullable UUID afterItemId,
        String why,
        String how,
        @Nullable String caution,
        @Nullable String step,
        String source,
        String howKnown,
        int version) {

    private static final Set<String> DRAWN = Set.of(
            "water-in",
            "graft-clear",
            "guard-closed",
            "stake-upright",
            "wax-and-scion",
            "water-round",
            "rain-look",
            "first-look",
            "suckers",
            "weak-shoots",
            "shoots-stay",
            "choose-shoot",
            "tie-in",
            "clusters-off",
            "weeds",
            "guards-wind",
            "guard-heat",
            "signs",
            "mid-count",
            "harden-off",
            "autumn-count",
            "earth-up",
            "guards-open",
            "spring-free",
            "first-pruning");

    /** Whether a drawing of this item's work is there, as img/care/CODE.svg. */
    public boolean drawn() {
        return DRAWN.contains(code);
    }

    /** Name of the drawing of its work in img/care; an item that a vineyard made has one that fits any work. */
    public String drawing() {
        return drawn() ? code : "own";
    }

    /** Kind of timing in message keys: days, stage, date, heat, rain. */
    public String timing() {
        Timing timing = rule.timing();
        if (timing instanceof Timing.AfterPlanting) {
            return "days";
        }
        if (timing instanceof Timing.AtStage) {
            return "stage";
        }
        if (timing instanceof Timing.OnDate) {
            return "date";
        }
        return timing instanceof Timing.AtHeat ? "heat" : "rain";
    }

    /** The timing's value as it is typed: days, BBCH code, MM-DD (northern), degree days in °C, mm. */
    public String timingValue() {
        Timing timing = rule.timing();
        if (timing instanceof Timing.AfterPlanting after) {
            return Integer.toString(after.days());
        }
        if (timing instanceof Timing.AtStage at) {
            return at.stage().toString();
        }
        if (timing instanceof Timing.OnDate on) {
            return monthDay(on.north());
        }
        if (timing instanceof Timing.AtHeat heat) {
            return plain(heat.degreeDays());
        }
        return plain(((Timing.AfterRain) timing).mm());
    }

    /** Month and day as MM-DD. */
    public static String monthDay(MonthDay day) {
        return day.toString().substring(2);
    }

    private static String plain(double value) {
        return value == Math.rint(value)
                ? Long.toString((long) value)
                : BigDecimal.valueOf(value).toPlainString();
    }
}
