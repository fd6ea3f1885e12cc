package org.rootling.weather.domain;

import java.text.Normalizer;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.regex.Pattern;
import org.rootling.weather.domain.FileUnits.Dates;
import org.rootling.weather.domain.FileUnits.Radiation;
import org.rootling.weather.domain.FileUnits.Rain;
import org.rootling.weather.domain.FileUnits.Temperature;
import org.rootling.weather.domain.FileUnits.Wind;

/**
 * Guesses from a file's heading line and first values what its columns hold and in which units. A guess only: the person
 * importing confirms or changes it.
 */
public final class Headings {

    /**
     * A guess.
     *
     * @param headingRow index of the heading row among the table's rows, -1 without one
     * @param columns what each column holds
     * @param units in which units
     */
    public record Guess(int headingRow, List<Column> columns, FileUnits units) {
        public Guess {
            columns = List.copyOf(columns);
        }
    }

    private static final int LOOK_AT = 40;
    private static final Pattern FAHRENHEIT = Pattern.compile("(°|º|\\bdeg ?|[_ (\\[])f\\b|fahrenheit");
    private static final Pattern INCHES = Pattern.compile("\\b(in|inch|inches)\\b|\"");
    private static final Pattern SLASHED = Pattern.compile("(\\d{1,2})[-/.](\\d{1,2})[-/.]\\d{2,4}.*");

    private Headings() {}

    /** Looks at a table. */
    public static Guess guess(CsvTable table) {
        int best = -1;
        int most = 1;
        List<Column> columns = List.of();
        for (int i = 0; i < Math.min(LOOK_AT, table.rows().size()); i++) {
            List<Column> found = columns(table.rows().get(i).cells());
            int known = (int) found.stream().filter(c -> c != Column.IGNORE).count();
            if (known > most) {
                best = i;
                most = known;
                columns = found;
            }
        }
        if (best < 0) {
            int width =
                    table.rows().stream().mapToInt(r -> r.cells().size()).max().orElse(0);
            columns = new ArrayList<>();
            for (int c = 0; c < width; c++) {
                columns.add(Column.IGNORE);
            }
        }
        return new Guess(best, columns, units(table, best, columns));
    }

    /** What the cells of a heading line name; each thing is given to the first column that names it. */
    static List<Column> columns(List<String> cells) {
        Set<Column> taken = EnumSet.noneOf(Column.class);
        List<Column> columns = new ArrayList<>();
        for (String cell : cells) {
            Column column = column(words(cell));
            columns.add(column != Column.IGNORE && taken.add(column) ? column : Column.IGNORE);
        }
        return columns;
    }

    /** Lower case, without accents, with single spaces between words. */
    private static String words(String cell) {
        String plain = Normalizer.normalize(cell, Normalizer.Form.NFD).replaceAll("\\p{M}", "");
        return plain.replaceAll("([a-z])([A-Z])", "$1 $2")
                .toLowerCase(Locale.ROOT)
                .replaceAll("[_.,:;*]+", " ")
                .replaceAll("[\\s\\u00A0]+", " ")
                .strip();
    }

    private static Column column(String words) {
        if (words.isEmpty() || words.length() > 80 || words.matches(".*(flag|quality|attributes|normal|record).*")) {
            return Column.IGNORE;
        }
        String bare = words.replaceAll("\\s*[(\\[].*$", "").strip();
        Column exact = switch (bare) {
            case "date", "day date", "datum", "fecha", "data", "dt", "time", "date time", "datetime", "timestamp" ->
                Column.DATE;
            case "year", "yr", "yyyy", "annee", "jahr", "ano", "anno" -> Column.YEAR;
            case "month", "mo", "mm", "mon", "mois", "monat", "mes", "mese" -> Column.MONTH;
            case "day", "dd", "dy", "jour", "tag", "dia", "giorno" -> Column.DAY;
            case "doy", "jday", "julian day", "day of year" -> Column.DAY_OF_YEAR;
            default -> Column.IGNORE;
        };
        if (exact != Column.IGNORE) {
            return exact;
        }
        boolean lowest = words.matches(".*\\b(min|minimum|minima|minimale|lowest|low|tmin|tn|tnk|mint)\\b.*")
                || words.matches(".*\\bt ?min.*");
        boolean highest = words.matches(".*\\b(max|maximum|maxima|maximale|highest|high|tmax|tx|txk|maxt)\\b.*")
                || words.matches(".*\\bt ?max.*");
        if (words.matches(".*(humid|feucht|umid|humed|\\brh).*")) {
            return lowest ? Column.HUMIDITY_LOW : highest ? Column.HUMIDITY_HIGH : Column.HUMIDITY;
        }
        if (words.matches(".*(rain|precip|prcp|niederschlag|pluie|lluvia|pioggia|\\brr\\b|\\brsk\\b|\\bppt\\b).*")) {
            return Column.RAIN;
        }
        if (words.matches(".*(wind|vent\\b|viento|\\bawnd\\b|\\bws\\b|\\bu2\\b).*")) {
            return words.matches(".*(dir|gust|boe|rafale|max|peak).*") ? Column.IGNORE : Column.WIND;
        }
        if (words.matches(".*(radiation|solar|strahlung|rayonnement|\\bsrad\\b|\\brs\\b).*")) {
            return Column.RADIATION;
        }
        if (words.matches(".*(sunshine|sun hours|sun h|sonnen|insolation|\\bsdk\\b).*") || words.equals("sun")) {
            return Column.SUN;
        }
        if (words.matches(".*(dew|soil|ground|grass|feels|wet bulb|water).*")) {
            return Column.IGNORE;
        }
        boolean temperature = words.matches(".*(temp|\\bt\\b|air|°|º|\\bdeg).*") || words.split(" ").length <= 2;
        if (temperature && lowest) {
            return Column.LOW;
        }
        return temperature && highest ? Column.HIGH : Column.IGNORE;
    }

    private static FileUnits units(CsvTable table, int headingRow, List<Column> columns) {
        Temperature temperature = Temperature.CELSIUS;
        Rain rain = Rain.MM;
        Wind wind = Wind.METRES_PER_SECOND;
        Radiation radiation = Radiation.MEGAJOULES;
        Dates dates = Dates.DAY_FIRST;
        boolean unitSaid = false;
        for (int c = 0; c < columns.size(); c++) {
            String heading = headingRow < 0
                    ? ""
                    : words(table.rows().get(headingRow).cell(c)).replace('_', ' ');
            switch (columns.get(c)) {
                case LOW, HIGH -> {
                    unitSaid |= heading.matches(".*([°º(\\[] ?c\\b|celsius).*");
                    temperature = FAHRENHEIT.matcher(heading).find() ? Temperature.FAHRENHEIT : temperature;
                }
                case RAIN ->
                    rain = INCHES.matcher(heading).find()
                            ? Rain.INCH
                            : heading.matches(".*\\bcm\\b.*") ? Rain.CM : Rain.MM;
                case WIND -> wind = wind(heading);
                case RADIATION -> radiation = radiation(heading);
                case DATE -> dates = dates(table, headingRow, c);
                default -> {}
            }
        }
        if (!unitSaid && temperature == Temperature.CELSIUS && tooHotForCelsius(table, headingRow, columns)) {
            temperature = Temperature.FAHRENHEIT;
        }
        return new FileUnits(dates, temperature, rain, wind, 10, radiation);
    }

    private static Wind wind(String heading) {
        if (heading.matches(".*(km ?/ ?h|kmh|kph).*")) {
            return Wind.KM_PER_HOUR;
        }
        if (heading.matches(".*(mph|mi ?/ ?h|miles).*")) {
            return Wind.MILES_PER_HOUR;
        }
        return heading.matches(".*\\b(kn|kt|kts|knots)\\b.*") ? Wind.KNOTS : Wind.METRES_PER_SECOND;
    }

    private static Radiation radiation(String heading) {
        if (heading.matches(".*kwh.*")) {
            return Radiation.KILOWATT_HOURS;
        }
        if (heading.matches(".*wh.*")) {
            return Radiation.WATT_HOURS;
        }
        return heading.matches(".*\\bw ?/ ?m.*") ? Radiation.MEAN_WATTS : Radiation.MEGAJOULES;
    }

    /** Month first only where a second part above 12 says so and no first part does. */
    private static Dates dates(CsvTable table, int headingRow, int column) {
        boolean secondAbove = false;
        for (int i = headingRow + 1; i < table.rows().size(); i++) {
            var slashed = SLASHED.matcher(table.rows().get(i).cell(column));
            if (slashed.matches()) {
                if (Integer.parseInt(slashed.group(1)) > 12) {
                    return Dates.DAY_FIRST;
                }
                secondAbove |= Integer.parseInt(slashed.group(2)) > 12;
            }
        }
        return secondAbove ? Dates.MONTH_FIRST : Dates.DAY_FIRST;
    }

    /** No place on earth has a highest temperature of 60 °C; a file that goes above it is in °F. */
    private static boolean tooHotForCelsius(CsvTable table, int headingRow, List<Column> columns) {
        int high = columns.indexOf(Column.HIGH);
        int above = 0;
        int known = 0;
        for (int i = headingRow + 1; high >= 0 && i < table.rows().size(); i++) {
            Double value = Cells.number(table.rows().get(i).cell(high)).orElse(null);
            if (value != null) {
                known++;
                above += value > 60 && value < 135 ? 1 : 0;
            }
        }
        return known > 0 && above * 10 > known;
    }
}
