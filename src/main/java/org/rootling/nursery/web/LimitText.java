package org.rootling.nursery.web;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.domain.ReferenceLists.Limit;
import org.rootling.platform.Measure;
import org.rootling.platform.UnitText;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * Limits of stores and what a hold has used of them, shown and typed in the reader's units. Templates use it as
 * {@code @limitText}.
 */
@Component("limitText")
class LimitText {

    /** Decimals of a limit as it is shown; what is typed is kept as {@link Measure} keeps it. */
    private static final int DECIMALS = 3;

    private final UnitText units;
    private final MessageSource messages;

    LimitText(UnitText units, MessageSource messages) {
        this.units = units;
        this.messages = messages;
    }

    /** A limit with its unit. */
    public String value(Limit limit) {
        return rounded(shown(limit, limit.value())) + " " + unit(limit);
    }

    /** From where on it warns, without the unit; a dash for never. */
    public String warnAt(Limit limit) {
        return limit.warnAt() == null ? "–" : rounded(shown(limit, limit.warnAt()));
    }

    /** The reader's unit of a limit, in words where it has some. */
    public String unit(Limit limit) {
        Measure measure = measure(limit);
        return measure == null || measure == Measure.DEGREE_DAY ? word(limit.unit()) : measure.unit();
    }

    /** So much of an allowance, without its unit. */
    public String used(String unit, double amount) {
        return switch (unit) {
            case "degree days" -> units.measuredNumber(Measure.DEGREE_DAY, amount, 1);
            case "mm" -> units.measuredNumber(Measure.MILLIMETRE, amount, UnitText.us() ? 2 : 1);
            default -> units.number(amount, 0);
        };
    }

    /** All of an allowance, without its unit. */
    public String allowed(String unit, double amount) {
        return switch (unit) {
            case "degree days" -> units.measuredNumber(Measure.DEGREE_DAY, amount, 0);
            case "mm" -> units.measuredNumber(Measure.MILLIMETRE, amount, UnitText.us() ? 2 : 0);
            default -> units.number(amount, 0);
        };
    }

    /** The reader's unit of an allowance, in words. */
    public String unit(String unit) {
        return word(unit);
    }

    private String rounded(@Nullable BigDecimal value) {
        return value == null ? "" : units.plain(value.setScale(DECIMALS, RoundingMode.HALF_UP));
    }

    static @Nullable BigDecimal shown(Limit limit, @Nullable BigDecimal value) {
        Measure measure = measure(limit);
        return value == null || measure == null ? value : measure.shown(value);
    }

    static @Nullable BigDecimal kept(Limit limit, @Nullable BigDecimal typed) {
        Measure measure = measure(limit);
        return typed == null || measure == null ? typed : measure.kept(typed);
    }

    private static @Nullable Measure measure(Limit limit) {
        return switch (limit.unit()) {
            case "degree-days" -> Measure.DEGREE_DAY;
            case "m" -> Measure.METRE;
            case "°C" -> limit.allowance().equals("warmth-above-outside") ? Measure.KELVIN : Measure.CELSIUS;
            default -> null;
        };
    }

    private String word(String unit) {
        String key = "nursery.unit." + unit.replace("% ", "").replace(' ', '-');
        return Objects.requireNonNullElse(messages.getMessage(key, null, unit, LocaleContextHolder.getLocale()), unit);
    }
}
