package org.rootling.platform;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.text.DecimalFormat;
import java.text.NumberFormat;
import java.util.HashMap;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * Lengths, areas, temperatures and what else is measured, as the reader wants it. Inside everything is SI; this is the
 * edge. Templates use it as {@code @units}.
 */
@Component("units")
public class UnitText {

    /** Exact by definition (international foot). */
    public static final double METRES_PER_FOOT = 0.3048;

    /** Exact by definition. */
    public static final double CENTIMETRES_PER_INCH = 2.54;

    /** 43,560 square feet. */
    public static final double SQUARE_METRES_PER_ACRE = 4046.8564224;

    /** A language and a number of decimals. */
    private record Written(Locale locale, int decimals) {
        Format format() {
            DecimalFormat format = (DecimalFormat) NumberFormat.getNumberInstance(locale);
            format.setMinimumFractionDigits(decimals);
            format.setMaximumFractionDigits(decimals);
            boolean asInJava = decimals == 0 && format.getDecimalFormatSymbols().getZeroDigit() == '0';
            return new Format(format, asInJava);
        }
    }

    /**
     * How a number is written; a page has hundreds, and to make a format costs more than to use it.
     *
     * @param asInJava whether small whole numbers are written as Java writes them
     */
    private record Format(DecimalFormat format, boolean asInJava) {}

    /** Of each thread its own, since formats cannot be shared; few languages, few decimals. */
    private static final ThreadLocal<Map<Written, Format>> FORMATS = ThreadLocal.withInitial(HashMap::new);

    /** Whether the current reader wants US customary units. */
    public static boolean us() {
        return UnitChoice.current() == UnitChoice.US;
    }

    /**
     * The unit beside a field: the reader's where the field's name says that it is measured (see {@link Measure}), or
     * where the sign begins with "~", as in "~L" or "~L/min".
     */
    public String beside(String name, String sign) {
        Measure measure = Measure.ofField(name);
        if (measure != null) {
            return measure.unit();
        }
        if (!sign.startsWith("~")) {
            return sign;
        }
        String metric = sign.substring(1);
        int per = metric.endsWith("/min") ? metric.lastIndexOf('/') : metric.length();
        return Measure.of(metric.substring(0, per)).unit() + metric.substring(per);
    }

    /** A value of ours with its unit, the reader's. */
    public String measured(Measure measure, double value, int decimals) {
        return measuredNumber(measure, value, decimals) + " " + measure.unit();
    }

    /** The number of {@link #measured} alone. */
    public String measuredNumber(Measure measure, double value, int decimals) {
        return number(measure.seen(value), decimals);
    }

    /** A speed of the wind in metres per second, or miles per hour. */
    public String wind(double metresPerSecond) {
        return measured(Measure.METRE_PER_SECOND, metresPerSecond, 1);
    }

    /** A length in metres, or feet. */
    public String length(double metres, int decimals) {
        return us() ? number(metres / METRES_PER_FOOT, decimals) + " ft" : number(metres, decimals) + " m";
    }

    /** The number of {@link #length} alone, for tables that say the unit once. */
    public String lengthNumber(double metres, int decimals) {
        return number(us() ? metres / METRES_PER_FOOT : metres, decimals);
    }

    /** The unit of {@link #lengthNumber}. */
    public String lengthUnit() {
        return us() ? "ft" : "m";
    }

    /** A height of a plant in centimetres, or inches. */
    public String height(double centimetres, int decimals) {
        return heightNumber(centimetres, decimals) + " " + heightUnit();
    }

    /** The number of {@link #height} alone. */
    public String heightNumber(double centimetres, int decimals) {
        return number(us() ? centimetres / CENTIMETRES_PER_INCH : centimetres, decimals);
    }

    /** The unit of {@link #height}. */
    public String heightUnit() {
        return us() ? "in" : "cm";
    }

    /** An area in square metres as hectares, or acres. */
    public String area(double squareMetres) {
        return us()
                ? number(squareMetres / SQUARE_METRES_PER_ACRE, 2) + " ac"
                : number(squareMetres / 10_000, 3) + " ha";
    }

    /** A short length in metres as centimetres, or inches. */
    public String centimetres(double metres, int decimals) {
        return us() ? number(metres / METRES_PER_FOOT * 12, decimals) + " in" : number(metres * 100, decimals) + " cm";
    }

    /** An area in square metres, or square feet. */
    public String squareMetres(double squareMetres, int decimals) {
        return us()
                ? number(squareMetres / (METRES_PER_FOOT * METRES_PER_FOOT), decimals) + " ft²"
                : number(squareMetres, decimals) + " m²";
    }

    /** The unit of {@link #squareMetres}. */
    public String squareUnit() {
        return Measure.SQUARE_METRE.unit();
    }

    /**
     * A value as the reader would type it into a field of that name, for links and hidden fields: a form reads those in
     * the reader's units as well.
     */
    public String typed(String field, @Nullable Double value) {
        if (value == null) {
            return "";
        }
        Measure measure = Measure.ofField(field);
        return measure == null || !us()
                ? value.toString()
                : measure.shown(BigDecimal.valueOf(value)).toPlainString();
    }

    /** So much on each hectare, or acre, without the unit. */
    public String perArea(double perHectare, int decimals) {
        return measuredNumber(Measure.PER_HECTARE, perHectare, decimals);
    }

    /** The unit of {@link #area} and {@link #perArea}. */
    public static String areaUnit() {
        return us() ? "ac" : "ha";
    }

    /** A temperature in degrees Celsius, or Fahrenheit. */
    public String temperature(double celsius) {
        return us() ? number(celsius * 1.8 + 32, 0) + " °F" : number(celsius, 1) + " °C";
    }

    /** Rain or water on the ground in millimetres, or inches. */
    public String depth(double millimetres) {
        return measured(Measure.MILLIMETRE, millimetres, us() ? 2 : 1);
    }

    /** Rain that a rule asks for, in millimetres, or inches, with no more decimals than it needs. */
    public String rain(double millimetres) {
        return rounded(Measure.MILLIMETRE, millimetres, us() ? 2 : 1) + " " + Measure.MILLIMETRE.unit();
    }

    /** A heat sum that a rule asks for, in degree days Celsius, or Fahrenheit, without the unit. */
    public String degreeDays(double celsiusDays) {
        return rounded(Measure.DEGREE_DAY, celsiusDays, us() ? 0 : 1);
    }

    private String rounded(Measure measure, double value, int decimals) {
        return plain(BigDecimal.valueOf(measure.seen(value)).setScale(decimals, RoundingMode.HALF_UP));
    }

    /** A volume in litres, or US gallons. */
    public String volume(double litres, int decimals) {
        return measured(Measure.LITRE, litres, decimals);
    }

    /** A weight in kilograms, or pounds. */
    public String weight(double kilograms, int decimals) {
        return measured(Measure.KILOGRAM, kilograms, decimals);
    }

    /** A difference of temperatures in kelvin, or degrees Fahrenheit. */
    public String difference(double kelvin) {
        return measured(Measure.KELVIN, kelvin, 1);
    }

    /** A text that was kept in both systems, in the reader's; see {@link UnitMessages#both}. */
    public String own(@Nullable String kept) {
        return kept == null ? "" : UnitMessages.in(kept, UnitChoice.current());
    }

    /** A length that is kept in a text, in both systems. */
    public String bothLengths(double metres, int decimals) {
        return UnitMessages.both(
                UnitChoice.in(UnitChoice.METRIC, () -> length(metres, decimals)),
                UnitChoice.in(UnitChoice.US, () -> length(metres, decimals)));
    }

    /** An area that is kept in a text, in both systems. */
    public String bothAreas(double squareMetres, int decimals) {
        return UnitMessages.both(
                UnitChoice.in(UnitChoice.METRIC, () -> squareMetres(squareMetres, decimals)),
                UnitChoice.in(UnitChoice.US, () -> squareMetres(squareMetres, decimals)));
    }

    /** A plain number in the reader's language. */
    public String number(double value, int decimals) {
        Format known =
                FORMATS.get().computeIfAbsent(new Written(LocaleContextHolder.getLocale(), decimals), Written::format);
        if (known.asInJava() && value == (int) value && Math.abs(value) < 1000) {
            return Integer.toString((int) value);
        }
        // what rounds to nothing has no sign
        return known.format().format(Math.abs(value) < 0.5 * Math.pow(10, -decimals) ? 0 : value);
    }

    /** A number, or text that is one, with no more decimals than it needs; other text stays as it is. */
    public String plain(@Nullable Object value) {
        if (value == null) {
            return "";
        }
        try {
            BigDecimal number = NumberText.read(value.toString());
            return number == null ? "" : NumberText.write(number, LocaleContextHolder.getLocale());
        } catch (IllegalArgumentException noNumber) {
            return value.toString();
        }
    }

    /** An amount of money, or text that is one: at least two decimals, in the reader's language; nothing for none. */
    public String money(@Nullable Object amount) {
        BigDecimal value = amount == null ? null : NumberText.read(amount.toString());
        if (value == null) {
            return "";
        }
        NumberFormat format = NumberFormat.getNumberInstance(LocaleContextHolder.getLocale());
        format.setMinimumFractionDigits(2);
        format.setMaximumFractionDigits(Math.max(2, value.scale()));
        return format.format(value);
    }

    /** A share from 0 to 1 as a whole percentage. */
    public String percent(double share) {
        return NumberFormat.getPercentInstance(LocaleContextHolder.getLocale()).format(share);
    }
}
