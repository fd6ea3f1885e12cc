package org.rootling.nursery.web;

import jakarta.servlet.http.HttpServletRequest;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.Collections;
import java.util.UUID;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;

/**
 * Reads what was typed into forms with many lines. Such forms keep every field as text, so that one that cannot be read
 * does not lose all the others.
 */
final class Typed {

    private static final Pattern LINE = Pattern.compile("lines\\[(\\d{1,12})].*");
    private static final int MOST_LINES = 100;

    private Typed() {}

    /** A whole number within bounds, or null for nothing typed. */
    static @Nullable Integer whole(@Nullable String text, String field, int least, int most) {
        if (text == null || text.isBlank()) {
            return null;
        }
        try {
            int number = Integer.parseInt(text.strip());
            if (number >= least && number <= most) {
                return number;
            }
        } catch (NumberFormatException notANumber) {
            // said below, with the bounds
        }
        throw new Refused("nursery.form.whole-number", least, most).at(field);
    }

    /** Whether nothing was typed. */
    static boolean nothing(@Nullable String text) {
        return text == null || text.isBlank();
    }

    /** What was typed, or a refusal where there is nothing. */
    static String needed(@Nullable String text, String refusal, String field) {
        if (text == null || text.isBlank()) {
            throw new Refused(refusal).at(field);
        }
        return text;
    }

    /** A price from 0 to 10,000 with at most four decimals, or null for nothing typed. */
    static @Nullable BigDecimal price(@Nullable String text, String field) {
        return money(text, field, 4, new BigDecimal("10000"), "nursery.form.price");
    }

    /** A sum of money from 0 to 10,000,000 with at most two decimals, or null for nothing typed. */
    static @Nullable BigDecimal amount(@Nullable String text, String field) {
        return money(text, field, 2, new BigDecimal("10000000"), "nursery.form.amount");
    }

    private static @Nullable BigDecimal money(
            @Nullable String text, String field, int decimals, BigDecimal most, String refusal) {
        if (text == null || text.isBlank()) {
            return null;
        }
        try {
            BigDecimal money = new BigDecimal(text.strip().replace(',', '.'));
            // The size is looked at first: "1e999999999" is short to type and endless to write out.
            if (money.scale() >= -7
                    && money.scale() <= decimals
                    && money.precision() <= 20
                    && money.signum() >= 0
                    && money.compareTo(most) <= 0) {
                return money;
            }
        } catch (NumberFormatException notANumber) {
            // said below
        }
        throw new Refused(refusal).at(field);
    }

    /** A day from 1990 to 2100, or null for nothing typed. */
    static @Nullable LocalDate day(@Nullable String text, String field) {
        if (text == null || text.isBlank()) {
            return null;
        }
        try {
            LocalDate day = LocalDate.parse(text.strip());
            if (day.getYear() >= 1990 && day.getYear() <= 2100) {
                return day;
            }
        } catch (DateTimeParseException notADay) {
            // said below
        }
        throw new Refused("platform.form.date-out-of-range").at(field);
    }

    /** The id of something chosen, or null for nothing chosen. */
    static @Nullable UUID id(@Nullable String text) {
        if (text == null || text.isBlank()) {
            return null;
        }
        try {
            return UUID.fromString(text.strip());
        } catch (IllegalArgumentException notAnId) {
            throw new NotFound("choice");
        }
    }

    /** Refuses a form whose lines are numbered absurdly, before anything is made of it. */
    static void requireSaneLines(HttpServletRequest request) {
        for (String name : Collections.list(request.getParameterNames())) {
            Matcher line = LINE.matcher(name);
            if (line.matches() && (line.group(1).length() > 3 || Integer.parseInt(line.group(1)) >= MOST_LINES)) {
                throw new Refused("nursery.form.too-many-lines", MOST_LINES);
            }
        }
    }
}
