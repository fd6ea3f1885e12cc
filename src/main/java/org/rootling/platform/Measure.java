package org.rootling.platform;

import java.math.BigDecimal;
import java.math.MathContext;
import java.math.RoundingMode;
import java.text.NumberFormat;
import org.jspecify.annotations.Nullable;
import org.springframework.context.i18n.LocaleContextHolder;

/**
 * A unit of ours and the US customary one in its place. Factors are exact by definition: the international foot and
 * inch, the US liquid gallon of 231 cubic inches, the avoirdupois pound, the pound-force at a standard gravity of
 * 9.80665 m/s², the mile of 5280 feet, five ninths of a kelvin (NIST Special Publication 811, appendix B); those of a
 * force per length or area are made of them.
 *
 * <p>What is shown carries enough decimals, and what is typed is rounded so, that a value shown and sent back is the
 * value it was: to 0.1 mm, 0.1 g, 0.001 N, 0.01 N/m, 0.0001 m/s, 0.01 degrees, a millionth of a degree day, a thousandth
 * of a square metre or litre.
 */
public enum Measure {
    METRE("m", "ft", "0.3048", 4, "M"),
    CENTIMETRE("cm", "in", "2.54", 3, "Cm"),
    MILLIMETRE("mm", "in", "25.4", 2, "Mm"),
    SQUARE_METRE("m²", "ft²", "0.09290304", 3, null),
    PER_HECTARE("/ha", "/ac", "2.4710538146716533", 3, null),
    LITRE("L", "gal", "3.785411784", 3, "Litres"),
    KILOGRAM("kg", "lb", "0.45359237", 4, "Kg"),
    KILOGRAM_PER_METRE("kg/m", "lb/ft", "1.488163943569554", 3, "KgPerM"),
    PER_KILOGRAM("/kg", "/lb", "2.2046226218487758", 3, "PerKg"),
    NEWTON("N", "lbf", "4.4482216152605", 3, "N"),
    NEWTON_PER_METRE("N/m", "lbf/ft", "14.593902937206365", 2, "NPerM"),
    NEWTON_METRE("N m", "ft·lbf", "1.3558179483314004", 3, null),
    MEGAPASCAL("MPa", "psi", "0.0068947572931683613", 4, null),
    METRE_PER_SECOND("m/s", "mph", "0.44704", 4, "Ms"),
    CELSIUS("°C", "°F", "1", 2, "C"),
    KELVIN("K", "°F", "0.5555555555555556", 2, null),
    DEGREE_DAY("°C·d", "°F·d", "0.5555555555555556", 6, null);

    private static final int SHOWN = 4;
    private static final int AMOUNT = 2;
    private static final BigDecimal NINE_FIFTHS = new BigDecimal("1.8");
    private static final BigDecimal FREEZING_F = new BigDecimal(32);

    private final String metric;
    private final String us;
    private final BigDecimal factor;
    private final int kept;
    private final @Nullable String suffix;

    Measure(String metric, String us, String factor, int kept, @Nullable String suffix) {
        this.metric = metric;
        this.us = us;
        this.factor = new BigDecimal(factor);
        this.kept = kept;
        this.suffix = suffix;
    }

    /** The unit that the current reader sees. */
    public String unit() {
        return UnitText.us() ? us : metric;
    }

    /** The measure of a metric unit sign, such as "m" or "°C". */
    public static Measure of(String sign) {
        for (Measure measure : values()) {
            if (measure.metric.equals(sign)) {
                return measure;
            }
        }
        throw new IllegalArgumentException("no such unit: " + sign);
    }

    /**
     * The measure of a field by the way we name them: "headlandM", "asideCm", "diameterMm", "temperatureC",
     * "waterLitres", "tensionN", "windMs", "cropKgPerM", "windNPerM", "staplesPerKg"; null for other names,
     * such as "postsPerM".
     */
    public static @Nullable Measure ofField(String name) {
        Measure found = null;
        int longest = 0;
        for (Measure measure : values()) {
            String suffix = measure.suffix;
            if (suffix != null && suffix.length() > longest && name.endsWith(suffix)) {
                found = measure;
                longest = suffix.length();
            }
        }
        return found == METRE && name.endsWith("PerM") ? null : found;
    }

    /** So much of it, for the arguments of messages: written in the reader's unit and language when it is said. */
    public Object amount(double value) {
        return amount(value, AMOUNT);
    }

    /** The same with at most so many decimals. */
    public Object amount(double value, int decimals) {
        return new Amount(this, value, decimals, RoundingMode.HALF_UP);
    }

    /** A lower bound of a field, for messages: rounded so that what is read there is taken when it is typed. */
    public Object least(double bound) {
        return new Amount(this, bound, decimals(bound), RoundingMode.CEILING);
    }

    /** An upper bound, likewise. */
    public Object most(double bound) {
        return new Amount(this, bound, decimals(bound), RoundingMode.FLOOR);
    }

    private static int decimals(double bound) {
        return Math.abs(bound) < 1 ? SHOWN : AMOUNT;
    }

    private record Amount(Measure measure, double value, int decimals, RoundingMode rounding) {
        @Override
        public String toString() {
            if (!Double.isFinite(value)) {
                return "∞ " + measure.unit();
            }
            NumberFormat format = NumberFormat.getNumberInstance(LocaleContextHolder.getLocale());
            format.setMaximumFractionDigits(decimals);
            format.setRoundingMode(rounding);
            return format.format(measure.shown(BigDecimal.valueOf(value))) + " " + measure.unit();
        }
    }

    /** From our unit to the reader's, for figures and drawings; {@link #shown(BigDecimal)} is for what is sent back. */
    public double seen(double value) {
        if (!UnitText.us()) {
            return value;
        }
        return this == CELSIUS ? value * 1.8 + 32 : value / factor.doubleValue();
    }

    /**
     * From our unit to the reader's, with the fewest decimals that lead back to the same value: 70 typed as °F is kept as
     * 21.11 °C, and shown as 70 again.
     */
    public BigDecimal shown(BigDecimal value) {
        if (!UnitText.us()) {
            return value;
        }
        BigDecimal exact = this == CELSIUS
                ? value.multiply(NINE_FIFTHS).add(FREEZING_F)
                : value.divide(factor, MathContext.DECIMAL64);
        for (int decimals = 0; decimals < SHOWN; decimals++) {
            BigDecimal brief = exact.setScale(decimals, RoundingMode.HALF_UP);
            if (kept(brief).compareTo(value) == 0) {
                return brief;
            }
        }
        return exact.setScale(SHOWN, RoundingMode.HALF_UP);
    }

    /** From our unit to the reader's, rounded. */
    public BigDecimal shown(double value, int decimals) {
        return BigDecimal.valueOf(seen(value)).setScale(decimals, RoundingMode.HALF_UP);
    }

    /** From the reader's unit to ours. */
    public BigDecimal kept(BigDecimal typed) {
        if (!UnitText.us()) {
            return typed;
        }
        return this == CELSIUS
                ? typed.subtract(FREEZING_F).divide(NINE_FIFTHS, kept, RoundingMode.HALF_UP)
                : typed.multiply(factor).setScale(kept, RoundingMode.HALF_UP);
    }
}
