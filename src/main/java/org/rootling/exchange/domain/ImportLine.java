package org.rootling.exchange.domain;

import java.math.BigDecimal;
import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.NumberText;
import org.rootling.platform.Refused;

/**
 * One line of a table, by the columns of what it becomes. A cell that cannot be read is refused with its column's name.
 *
 * @param number of the line in the file, the heading being 1
 * @param cells text by column; empty cells are left out
 */
record ImportLine(int number, Map<String, String> cells) {

    private static final Pattern DAY_FIRST = Pattern.compile("(\\d{1,2})[./](\\d{1,2})[./](\\d{4})");

    /** Furthest corner from the block's zero, metres. */
    private static final int MOST_METRES = 20_000;

    ImportLine {
        cells = Map.copyOf(cells);
    }

    @Nullable
    String text(String column) {
        return cells.get(column);
    }

    String text(String column, String otherwise) {
        return cells.getOrDefault(column, otherwise);
    }

    String needed(String column, int most) {
        String text = cells.get(column);
        if (text == null) {
            throw new Refused("exchange.import.missing").at(column);
        }
        if (text.length() > most) {
            throw new Refused("exchange.import.cell-too-long", most).at(column);
        }
        return text;
    }

    int whole(String column, int least, int most) {
        String text = needed(column, 20);
        try {
            int number = Integer.parseInt(text);
            if (number >= least && number <= most) {
                return number;
            }
        } catch (NumberFormatException notANumber) {
            // said below, with the bounds
        }
        throw new Refused("exchange.import.whole", least, most).at(column);
    }

    int whole(String column, int least, int most, int otherwise) {
        return cells.containsKey(column) ? whole(column, least, most) : otherwise;
    }

    @Nullable
    BigDecimal price(String column) {
        String text = cells.get(column);
        if (text == null) {
            return null;
        }
        try {
            BigDecimal price = NumberText.read(text);
            if (price != null
                    && price.signum() >= 0
                    && price.scale() <= 4
                    && price.compareTo(BigDecimal.valueOf(10_000)) <= 0) {
                return price;
            }
        } catch (IllegalArgumentException notANumber) {
            // said below
        }
        throw new Refused("exchange.import.price").at(column);
    }

    /** A number with a decimal point or comma; null where there is none. */
    @Nullable
    BigDecimal number(String column, int least, int most) {
        String text = cells.get(column);
        if (text == null) {
            return null;
        }
        try {
            BigDecimal number = NumberText.read(text);
            if (number != null
                    && number.compareTo(BigDecimal.valueOf(least)) >= 0
                    && number.compareTo(BigDecimal.valueOf(most)) <= 0) {
                return number;
            }
        } catch (IllegalArgumentException notANumber) {
            // said below, with the bounds
        }
        throw new Refused("exchange.import.number", least, most).at(column);
    }

    /** Metres, which must be there. */
    double metres(String column) {
        BigDecimal metres = number(column, -MOST_METRES, MOST_METRES);
        if (metres == null) {
            throw new Refused("exchange.import.missing").at(column);
        }
        return metres.doubleValue();
    }

    /** A day as 2027-04-06, 6.4.2027 or 6/4/2027, the day first. */
    @Nullable
    LocalDate day(String column) {
        String text = cells.get(column);
        if (text == null) {
            return null;
        }
        try {
            Matcher dayFirst = DAY_FIRST.matcher(text);
            LocalDate day = dayFirst.matches()
                    ? LocalDate.of(
                            Integer.parseInt(dayFirst.group(3)),
                            Integer.parseInt(dayFirst.group(2)),
                            Integer.parseInt(dayFirst.group(1)))
                    : LocalDate.parse(text.length() > 10 ? text.substring(0, 10) : text);
            if (day.getYear() >= 1990 && day.getYear() <= 2100) {
                return day;
            }
        } catch (DateTimeException notADay) {
            // said below
        }
        throw new Refused("exchange.import.day").at(column);
    }

    LocalDate neededDay(String column) {
        LocalDate day = day(column);
        if (day == null) {
            throw new Refused("exchange.import.missing").at(column);
        }
        return day;
    }
}
