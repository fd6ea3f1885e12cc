package org.rootling.platform;

import java.math.BigDecimal;
import java.text.NumberFormat;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * Lengths, areas and temperatures as the reader wants them. Inside everything is SI; this is the edge. Templates use it
 * as {@code @units}.
 */
@Component("units")
public class UnitText {

    /** Exact by definition (international foot). */
    public static final double METRES_PER_FOOT = 0.3048;

    /** Exact by definition. */
    public static final double CENTIMETRES_PER_INCH = 2.54;

    /** 43,560 square feet. */
    public static final double SQUARE_METRES_PER_ACRE = 4046.8564224;

    /** 231 cubic inches. */
    public static final double LITRES_PER_GALLON = 3.785411784;

    /** Exact by definition (international avoirdupois pound). */
    public static final double KILOGRAMS_PER_POUND = 0.45359237;

    /** Whether the current reader wants US customary units. */
    public static boolean us() {
        return UnitChoice.current() == UnitChoice.US;
    }

    /**
     * The unit beside a field: the reader's where the field's name says that it is measured (see {@link Measure}), or
     * where the sign begins with "~", as in "~L/min".
     */
    public String beside(String name, String sign) {
        Measure measure = Measure.ofField(name);
        if (measure != null) {
            return measure.unit();
        }
        if (!sign.startsWith("~")) {
            return sign;
        }
        String[] parts = sign.substring(1).split("/", 2);
        return Measure.of(parts[0]).unit() + (parts.length == 2 ? "/" + parts[1] : "");
    }

    /** The metric unit of a field, where the reader sees another; null where it is the same. */
    public @Nullable String metricOf(String name, String sign) {
        String plain = sign.startsWith("~") ? sign.substring(1) : sign;
        return beside(name, sign).equals(plain) ? null : plain;
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
        return number(us() ? perHectare * SQUARE_METRES_PER_ACRE / 10_000 : perHectare, decimals);
    }

    /** The unit of {@link #area} and {@link #perArea}. */
    public String areaUnit() {
        return us() ? "ac" : "ha";
    }

    /** A temperature in degrees Celsius, or Fahrenheit. */
    public String temperature(double celsius) {
        return us() ? number(celsius * 1.8 + 32, 0) + " °F" : number(celsius, 1) + " °C";
    }

    /** Rain or water on the ground in millimetres, or inches. */
    public String depth(double millimetres) {
        return us() ? number(millimetres / 25.4, 2) + " in" : number(millimetres, 1) + " mm";
    }

    /** Rain as it is told in advice, millimetres with no more decimals than they need, or inches. */
    public String rain(double millimetres) {
        return us() ? number(millimetres / 25.4, 1) + " in" : plain(millimetres) + " mm";
    }

    /** A heat sum in degree days Celsius, or Fahrenheit, without the unit. */
    public String degreeDays(double celsiusDays) {
        return us() ? number(celsiusDays * 1.8, 0) : plain(celsiusDays);
    }

    /** A volume in litres, or US gallons. */
    public String volume(double litres, int decimals) {
        return us() ? number(litres / LITRES_PER_GALLON, decimals) + " gal" : number(litres, decimals) + " L";
    }

    /** A weight in kilograms, or pounds. */
    public String weight(double kilograms, int decimals) {
        double shown = us() ? kilograms / KILOGRAMS_PER_POUND : kilograms;
        return number(shown, decimals) + " " + Measure.KILOGRAM.unit();
    }

    /** A difference of temperatures in kelvin, or degrees Fahrenheit. */
    public String difference(double kelvin) {
        return us() ? number(kelvin * 1.8, 1) + " °F" : number(kelvin, 1) + " K";
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
        Locale locale = LocaleContextHolder.getLocale();
        NumberFormat format = NumberFormat.getNumberInstance(locale);
        format.setMinimumFractionDigits(decimals);
        format.setMaximumFractionDigits(decimals);
        // what rounds to nothing has no sign
        return format.format(Math.abs(value) < 0.5 * Math.pow(10, -decimals) ? 0 : value);
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
