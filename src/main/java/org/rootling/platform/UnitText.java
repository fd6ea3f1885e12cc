package org.rootling.platform;

import java.text.NumberFormat;
import java.util.Locale;
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

    /** 43,560 square feet. */
    public static final double SQUARE_METRES_PER_ACRE = 4046.8564224;

    /** Whether the current reader wants US customary units. */
    public static boolean us() {
        return UnitChoice.current() == UnitChoice.US;
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

    /** An area in square metres as hectares, or acres. */
    public String area(double squareMetres) {
        return us()
                ? number(squareMetres / SQUARE_METRES_PER_ACRE, 2) + " ac"
                : number(squareMetres / 10_000, 3) + " ha";
    }

    /** A temperature in degrees Celsius, or Fahrenheit. */
    public String temperature(double celsius) {
        return us() ? number(celsius * 1.8 + 32, 0) + " °F" : number(celsius, 1) + " °C";
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

    /** A share from 0 to 1 as a whole percentage. */
    public String percent(double share) {
        return NumberFormat.getPercentInstance(LocaleContextHolder.getLocale()).format(share);
    }
}
