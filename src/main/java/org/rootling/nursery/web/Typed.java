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

    /** A price from 0 to 10,000 with at most four decimals, or null for nothing typed. */
    static @Nullable BigDecimal price(@Nullable String text, String field) {
        if (text == null || text.isBlank()) {
            return null;
        }
        try {
            BigDecimal price = new BigDecimal(text.strip().replace(',', '.'));
            boolean fits = price.signum() >= 0
                    && price.precision() - price.scale() <= 5
                    && price.scale() <= 4
                    && price.compareTo(new BigDecimal("10000")) <= 0;
            if (fits) {
                return price;
            }
        } catch (NumberFormatException notANumber) {
            // said below
        }
        throw new Refused("nursery.form.price").at(field);
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
