package org.rootling.platform;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.text.NumberFormat;
import org.jspecify.annotations.Nullable;
import org.springframework.context.i18n.LocaleContextHolder;

/**
 * A unit of ours and the US customary one in its place. Factors are exact by definition: the international foot and
 * inch, the US liquid gallon of 231 cubic inches, the avoirdupois pound (NIST Special Publication 811, appendix B).
 *
 * <p>What is shown carries enough decimals, and what is typed is rounded so, that a value shown and sent back is the
 * value it was: to 0.1 mm, 0.1 g, 0.01 degrees, a thousandth of a square metre or litre.
 */
public enum Measure {
    METRE("m", "ft", "0.3048", 4, "M"),
    CENTIMETRE("cm", "in", "2.54", 3, "Cm"),
    MILLIMETRE("mm", "in", "25.4", 2, "Mm"),
    SQUARE_METRE("m²", "ft²", "0.09290304", 3, null),
    LITRE("L", "gal", "3.785411784", 3, "Litres"),
    KILOGRAM("kg", "lb", "0.45359237", 4, "Kg"),
    KILOGRAM_PER_METRE("kg/m", "lb/ft", "1.488163943569554", 3, "KgPerM"),
    CELSIUS("°C", "°F", "1", 2, "C");

    private static final int SHOWN = 4;
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
     * "waterLitres", "cropKgPerM"; null for other names, such as "windNPerM" or "staplesPerKg".
     */
    public static @Nullable Measure ofField(String name) {
        if (name.endsWith("KgPerM")) {
            return KILOGRAM_PER_METRE;
        }
        if (name.endsWith("PerM") || name.endsWith("PerKg")) {
            return null;
        }
        for (Measure measure : values()) {
            if (measure.suffix != null && name.endsWith(measure.suffix)) {
                return measure;
            }
        }
        return null;
    }

    /** So much of it, for the arguments of messages: written in the reader's unit and language when it is said. */
    public Object amount(double value) {
        return new Amount(this, value);
    }

    private record Amount(Measure measure, double value) {
        @Override
        public String toString() {
            NumberFormat format = NumberFormat.getNumberInstance(LocaleContextHolder.getLocale());
            format.setMaximumFractionDigits(2);
            return format.format(measure.shown(BigDecimal.valueOf(value))) + " " + measure.unit();
        }
    }

    /** From our unit to the reader's. */
    public BigDecimal shown(BigDecimal value) {
        if (!UnitText.us()) {
            return value;
        }
        return this == CELSIUS
                ? value.multiply(NINE_FIFTHS).add(FREEZING_F).setScale(SHOWN, RoundingMode.HALF_UP)
                : value.divide(factor, SHOWN, RoundingMode.HALF_UP);
    }

    /** From our unit to the reader's, rounded. */
    public BigDecimal shown(double value, int decimals) {
        return shown(BigDecimal.valueOf(value)).setScale(decimals, RoundingMode.HALF_UP);
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
