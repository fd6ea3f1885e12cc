package org.rootling.weather.domain;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.time.format.DateTimeFormatterBuilder;
import java.time.format.DateTimeParseException;
import java.util.Locale;
import java.util.Optional;
import java.util.Set;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.rootling.weather.domain.FileUnits.Dates;

/** Reads single cells: numbers with point or comma, dates in the common orders, and the many ways to say "nothing". */
final class Cells {
    private static final Set<String> NOTHING = Set.of(
            "", "-", "--", "---", "na", "n/a", "nan", "null", "none", "m", "missing", "x", "/", "-99", "-99.9", "-999",
            "-999.0", "-999.9", "-9999", "-9999.0", "9999", "999.9", "9999.9");
    private static final Set<String> TRACE = Set.of("t", "tr", "trace");
    private static final Pattern NUMBER =
            Pattern.compile("([+-]?\\d{1,9}(?:[.,]\\d{1,12})?|[+-]?[.,]\\d{1,12})\\s*[^\\d\\s.,;:+-][^\\d;:]{0,11}|"
                    + "([+-]?\\d{1,9}(?:[.,]\\d{0,12})?|[+-]?[.,]\\d{1,12})");
    private static final Pattern YEAR_FIRST = Pattern.compile("(\\d{4})[-/.](\\d{1,2})[-/.](\\d{1,2})(?:[T ].*)?");
    private static final Pattern PACKED = Pattern.compile("(\\d{4})(\\d{2})(\\d{2})");
    private static final Pattern YEAR_LAST =
            Pattern.compile("(\\d{1,2})[-/.](\\d{1,2})[-/.](\\d{4}|\\d{2})(?:[T ].*)?");
    private static final DateTimeFormatter NAMED = new DateTimeFormatterBuilder()
            .parseCaseInsensitive()
            .appendPattern("[d MMM yyyy][d-MMM-yyyy][d MMMM yyyy][MMM d, yyyy][MMMM d, yyyy]")
            .toFormatter(Locale.ENGLISH);

    private Cells() {}

    /** Whether a cell says that there is no value. */
    static boolean nothing(String cell) {
        return NOTHING.contains(cell.toLowerCase(Locale.ROOT));
    }

    /** A number, with or without a unit behind it; empty when it is none. A trace of rain counts as 0. */
    static Optional<Double> number(String cell) {
        String plain = cell.replace('\u2212', '-').replace("\u00A0", "").strip();
        if (TRACE.contains(plain.toLowerCase(Locale.ROOT))) {
            return Optional.of(0.0);
        }
        Matcher number = NUMBER.matcher(plain);
        if (!number.matches()) {
            return Optional.empty();
        }
        String digits = number.group(1) != null ? number.group(1) : number.group(2);
        return Optional.of(Double.parseDouble(digits.replace(',', '.')));
    }

    /** A date; empty when it is none. Two-digit years up to 49 are after 2000. */
    static Optional<LocalDate> date(String cell, Dates order) {
        try {
            Matcher first = YEAR_FIRST.matcher(cell);
            if (first.matches()) {
                return Optional.of(date(first.group(1), first.group(2), first.group(3)));
            }
            Matcher packed = PACKED.matcher(cell);
            if (packed.matches()) {
                return Optional.of(date(packed.group(1), packed.group(2), packed.group(3)));
            }
            Matcher last = YEAR_LAST.matcher(cell);
            if (last.matches()) {
                int year = Integer.parseInt(last.group(3));
                String full = String.valueOf(last.group(3).length() == 4 ? year : year + (year < 50 ? 2000 : 1900));
                return Optional.of(
                        order == Dates.DAY_FIRST
                                ? date(full, last.group(2), last.group(1))
                                : date(full, last.group(1), last.group(2)));
            }
            return Optional.of(LocalDate.parse(cell, NAMED));
        } catch (DateTimeParseException noDate) {
            return Optional.empty();
        } catch (DateTimeException noSuchDay) {
            return Optional.empty();
        }
    }

    private static LocalDate date(String year, String month, String day) {
        return LocalDate.of(Integer.parseInt(year), Integer.parseInt(month), Integer.parseInt(day));
    }
}
