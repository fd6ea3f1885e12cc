package org.rootling.training.domain;

import java.time.DateTimeException;
import java.time.MonthDay;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;
import org.rootling.training.calc.Bbch;
import org.rootling.training.calc.CareRule;
import org.rootling.training.calc.Timing;

/** Makes rules from what a person or a file says, with a refusal at the right field where it makes no sense. */
public final class CareRules {

    /** How an item's first day is told. */
    public enum Kind {
        DAYS,
        STAGE,
        DATE,
        HEAT,
        RAIN
    }

    private CareRules() {}

    /**
     * A rule.
     *
     * @param value days, BBCH code, MM-DD north, degree days in °C or mm, by kind; numbers with at most six decimals
     * @param orAfterDays only for a stage
     * @param until MM-DD north
     */
    public static CareRule of(
            Kind kind,
            String value,
            @Nullable Integer orAfterDays,
            int windowDays,
            @Nullable Integer repeatDays,
            @Nullable String until) {
        if (orAfterDays != null && kind != Kind.STAGE) {
            throw new Refused("training.item.or-after-needs-stage").at("orAfterDays");
        }
        if (orAfterDays != null && (orAfterDays < 0 || orAfterDays > 730)) {
            throw new Refused("training.item.bad-days").at("orAfterDays");
        }
        Timing timing = switch (kind) {
            case DAYS -> afterPlanting(value);
            case STAGE ->
                new Timing.AtStage(
                        Bbch.parse(value).orElseThrow(() -> new Refused("training.stage.unknown", value).at("value")),
                        orAfterDays);
            case DATE -> new Timing.OnDate(monthDay(value, "value"));
            case HEAT -> heat(value);
            case RAIN -> rain(value);
        };
        if (windowDays < 0 || windowDays > 365) {
            throw new Refused("training.item.bad-window").at("windowDays");
        }
        if (repeatDays != null && (repeatDays < 1 || repeatDays > 365)) {
            throw new Refused("training.item.bad-repeat").at("repeatDays");
        }
        return new CareRule(timing, windowDays, repeatDays, until == null ? null : monthDay(until, "until"));
    }

    private static Timing afterPlanting(String value) {
        double days = number(value);
        if (days != Math.rint(days) || days < 0 || days > 730) {
            throw new Refused("training.item.bad-days").at("value");
        }
        return new Timing.AfterPlanting((int) days);
    }

    private static Timing heat(String value) {
        double sum = number(value);
        if (!(sum > 0 && sum <= 5000)) {
            throw new Refused("training.item.bad-heat").at("value");
        }
        return new Timing.AtHeat(sum);
    }

    private static Timing rain(String value) {
        double mm = number(value);
        if (!(mm > 0 && mm <= 500)) {
            throw new Refused("training.item.bad-rain").at("value");
        }
        return new Timing.AfterRain(mm);
    }

    private static double number(String value) {
        if (!value.strip().matches("\\d{1,5}(\\.\\d{1,6})?")) {
            throw new Refused("training.item.bad-number", value).at("value");
        }
        return Double.parseDouble(value.strip());
    }

    private static MonthDay monthDay(String value, String field) {
        try {
            return MonthDay.parse("--" + value.strip());
        } catch (DateTimeException notADate) {
            throw new Refused("training.item.bad-date", value).at(field);
        }
    }
}
