package org.rootling.training.web;

import java.time.MonthDay;
import java.util.Locale;
import org.rootling.platform.DateText;
import org.rootling.platform.UnitText;
import org.rootling.training.CareItem;
import org.rootling.training.calc.CareRule;
import org.rootling.training.calc.Timing;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** When an item of the checklist falls due, in words. Templates use it as {@code @careTimes}. */
@Component("careTimes")
public class CareTimes {

    /** Any leap year, in which every date of the year can be said. */
    private static final int LEAP_YEAR = 2024;

    private final MessageSource messages;
    private final UnitText units;

    CareTimes(MessageSource messages, UnitText units) {
        this.messages = messages;
        this.units = units;
    }

    /** Such as "7 days after planting; again every 14 days; until 15 Aug". */
    public String of(CareItem item) {
        CareRule rule = item.rule();
        StringBuilder when = new StringBuilder(first(rule.timing(), item.timingValue()));
        if (rule.timing() instanceof Timing.AtStage at && at.orAfterDays() != null) {
            when.append(say("or-after", at.orAfterDays()));
        }
        if (rule.repeatDays() != null) {
            when.append(say("repeat", rule.repeatDays()));
        }
        if (rule.until() != null) {
            when.append(say("until", date(rule.until())));
        }
        return when.toString();
    }

    private String first(Timing timing, String typed) {
        if (timing instanceof Timing.AfterPlanting after) {
            return after.days() == 0 ? say("same-day") : say("days", after.days());
        }
        if (timing instanceof Timing.OnDate on) {
            return say("date", date(on.north()));
        }
        if (timing instanceof Timing.AtHeat heat) {
            return say("heat", units.degreeDays(heat.degreeDays()));
        }
        if (timing instanceof Timing.AfterRain rain) {
            return say("rain", units.rain(rain.mm()));
        }
        return say("stage", typed);
    }

    private static String date(MonthDay day) {
        return DateText.format(day.atYear(LEAP_YEAR), "d MMM", locale());
    }

    private String say(String key, Object... values) {
        return messages.getMessage("training.when." + key, values, locale());
    }

    private static Locale locale() {
        return LocaleContextHolder.getLocale();
    }
}
