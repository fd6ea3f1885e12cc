package org.rootling.weather.domain;

import java.time.DateTimeException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;
import org.rootling.weather.calc.Evapotranspiration;

/** Reads the days of a table by a mapping of its columns, line by line; a line that makes no sense is refused alone. */
public final class DayReader {

    /**
     * A mapping.
     *
     * @param headingRow index of the heading row, -1 without one; days start below it
     * @param columns what each column holds
     * @param units in which units
     */
    public record Mapping(int headingRow, List<Column> columns, FileUnits units) {
        public Mapping {
            columns = List.copyOf(columns);
        }
    }

    /**
     * A line that was refused.
     *
     * @param line its number in the file
     * @param text its beginning
     * @param reason message key
     */
    public record RefusedLine(long line, String text, String reason) {}

    /**
     * What was read.
     *
     * @param days the days taken, by date, each once
     * @param repeated lines that only repeat a day with the same values
     * @param refused lines refused, in order
     */
    public record Outcome(List<DayValues> days, int repeated, List<RefusedLine> refused) {
        public Outcome {
            days = List.copyOf(days);
            refused = List.copyOf(refused);
        }
    }

    private DayReader() {}

    /**
     * Reads all days.
     *
     * @param latest the last date that is taken
     */
    public static Outcome read(CsvTable table, Mapping mapping, LocalDate latest) {
        check(mapping.columns());
        Map<LocalDate, DayValues> days = new HashMap<>();
        List<RefusedLine> refused = new ArrayList<>();
        int repeated = 0;
        for (int i = mapping.headingRow() + 1; i < table.rows().size(); i++) {
            CsvTable.Row row = table.rows().get(i);
            try {
                DayValues day = day(row, mapping);
                if (day.date().isAfter(latest)) {
                    throw new Refused("weather.day.too-far-ahead");
                }
                DayValues before = days.putIfAbsent(day.date(), day);
                if (before != null && !before.equals(day)) {
                    throw new Refused("weather.day.twice");
                }
                repeated += before == null ? 0 : 1;
            } catch (Refused reason) {
                refused.add(new RefusedLine(row.line(), start(row), reason.key()));
            }
        }
        return new Outcome(
                days.values().stream()
                        .sorted(java.util.Comparator.comparing(DayValues::date))
                        .toList(),
                repeated,
                refused);
    }

    /** Refuses a mapping by which no day can be read. */
    private static void check(List<Column> columns) {
        boolean dated = columns.contains(Column.DATE)
                || (columns.contains(Column.YEAR)
                        && (columns.contains(Column.DAY_OF_YEAR)
                                || (columns.contains(Column.MONTH) && columns.contains(Column.DAY))));
        if (!dated) {
            throw new Refused("weather.import.no-date-column");
        }
        if (!columns.contains(Column.LOW) || !columns.contains(Column.HIGH)) {
            throw new Refused("weather.import.no-temperature-columns");
        }
        for (Column column : Column.values()) {
            if (column != Column.IGNORE
                    && columns.stream().filter(c -> c == column).count() > 1) {
                throw new Refused("weather.import.column-twice");
            }
        }
    }

    private static String start(CsvTable.Row row) {
        String text = String.join(" | ", row.cells());
        return text.length() > 80 ? text.substring(0, 80) + "…" : text;
    }

    private static DayValues day(CsvTable.Row row, Mapping mapping) {
        FileUnits units = mapping.units();
        LocalDate date = date(row, mapping);
        Double low = number(row, mapping, Column.LOW);
        Double high = number(row, mapping, Column.HIGH);
        if (low == null || high == null) {
            throw new Refused("weather.day.no-temperatures");
        }
        Double rain = number(row, mapping, Column.RAIN);
        Double wind = number(row, mapping, Column.WIND);
        Double radiation = number(row, mapping, Column.RADIATION);
        return new DayValues(
                date,
                round(units.temperature().celsius(low), 100),
                round(units.temperature().celsius(high), 100),
                rain == null ? null : round(units.rain().mm(rain), 100),
                wind == null ? null : wind(wind, units),
                number(row, mapping, Column.HUMIDITY),
                number(row, mapping, Column.HUMIDITY_HIGH),
                number(row, mapping, Column.HUMIDITY_LOW),
                radiation == null ? null : round(units.radiation().megajoules(radiation), 100),
                number(row, mapping, Column.SUN));
    }

    static double wind(double value, FileUnits units) {
        double speed = units.wind().metresPerSecond(value);
        boolean at2m = Math.abs(units.windHeightM() - 2) < 0.01;
        return round(at2m ? speed : Evapotranspiration.windAt2m(speed, units.windHeightM()), 100);
    }

    /** Rounded to hundredths: a second reading of the same file then gives the same values exactly. */
    static double round(double value, int parts) {
        return (double) Math.round(value * parts) / parts;
    }

    private static @Nullable Double number(CsvTable.Row row, Mapping mapping, Column column) {
        int at = mapping.columns().indexOf(column);
        String cell = at < 0 ? "" : row.cell(at);
        if (Cells.nothing(cell)) {
            return null;
        }
        return Cells.number(cell).orElseThrow(() -> new Refused("weather.day.no-number"));
    }

    private static LocalDate date(CsvTable.Row row, Mapping mapping) {
        int at = mapping.columns().indexOf(Column.DATE);
        if (at >= 0) {
            return Cells.date(row.cell(at), mapping.units().dates())
                    .orElseThrow(() -> new Refused("weather.day.no-date"));
        }
        try {
            int year = whole(row, mapping, Column.YEAR);
            if (mapping.columns().contains(Column.DAY_OF_YEAR)) {
                return LocalDate.ofYearDay(year, whole(row, mapping, Column.DAY_OF_YEAR));
            }
            return LocalDate.of(year, whole(row, mapping, Column.MONTH), whole(row, mapping, Column.DAY));
        } catch (DateTimeException noSuchDay) {
            throw new Refused("weather.day.no-date");
        }
    }

    private static int whole(CsvTable.Row row, Mapping mapping, Column column) {
        Optional<Double> value = Cells.number(row.cell(mapping.columns().indexOf(column)));
        if (value.isEmpty() || value.get() != Math.rint(value.get())) {
            throw new Refused("weather.day.no-date");
        }
        return value.get().intValue();
    }
}
