package org.rootling.nursery.domain;

import java.time.LocalDate;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Advice;
import org.rootling.nursery.Hold;
import org.rootling.platform.DateText;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;

/** A hold in words, for mail and calendar; the same words as on the pages. */
@Component
class HoldWords {

    private final MessageSource messages;

    HoldWords(MessageSource messages) {
        this.messages = messages;
    }

    /** Lot, count, place, level and until when, and what to do: one paragraph. */
    String paragraph(Hold hold, Locale locale) {
        StringBuilder text = new StringBuilder();
        text.append(hold.lotCode()).append(' ').append(hold.variety()).append(": ");
        text.append(say("nursery.hold.count-in", locale, hold.count(), hold.store(), day(hold.since(), locale)));
        text.append(". ").append(say("platform.level." + hold.level(), locale));
        if (hold.runsOutOn() != null) {
            text.append(": ")
                    .append(say(
                            "nursery.hold.runs-out",
                            locale,
                            day(hold.runsOutOn(), locale),
                            say("nursery.allowance." + hold.deciding(), locale)));
        }
        text.append(". ").append(todo(hold, locale));
        return text.toString().strip();
    }

    /** What to do about a hold. */
    String todo(Hold hold, Locale locale) {
        StringBuilder text = new StringBuilder();
        LocalDate plantBy = hold.plantBy();
        if (plantBy != null) {
            text.append(say("nursery.advice.plant-by", locale, day(plantBy, locale)))
                    .append(". ");
        }
        for (Advice advice : hold.advice()) {
            text.append(advice(advice, locale)).append(' ');
        }
        return text.toString().strip();
    }

    private String advice(Advice advice, Locale locale) {
        Integer gain = advice.gainDays();
        if (advice.action().equals("water")) {
            return gain == null ? say("nursery.advice.water", locale) : say("nursery.advice.water-gains", locale, gain);
        }
        return gain == null
                ? say("nursery.advice.move-no-end", locale, advice.where())
                : say("nursery.advice.move", locale, advice.where(), gain);
    }

    String say(String key, Locale locale, @Nullable Object... args) {
        return String.valueOf(messages.getMessage(key, args, key, locale));
    }

    static String day(@Nullable LocalDate day, Locale locale) {
        return day == null ? "" : DateText.format(day, "EEE d MMM", locale);
    }
}
