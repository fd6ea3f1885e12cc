package org.rootling.platform.web;

import java.math.BigDecimal;
import java.text.ParseException;
import java.util.Locale;
import java.util.Set;
import java.util.function.Function;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.NumberText;
import org.springframework.format.AnnotationFormatterFactory;
import org.springframework.format.Formatter;
import org.springframework.format.Parser;
import org.springframework.format.Printer;

/**
 * Numbers in forms: shown with the decimal sign of the reader's language, read with a point or a comma whatever the
 * language, in the reader's units where the field is {@link Measured}. Thousands are never grouped, and grouped ones
 * are refused rather than guessed at.
 */
final class FormNumbers {

    private FormNumbers() {}

    /** A number type of forms. */
    record Local<T extends Number>(
            Function<BigDecimal, T> typed,
            Function<T, BigDecimal> plain,
            @Nullable Measure measure) implements Formatter<T> {

        @Override
        public String print(T value, Locale locale) {
            if (value instanceof Double number && !Double.isFinite(number)) {
                return "";
            }
            BigDecimal number = plain.apply(value);
            return NumberText.write(measure == null ? number : measure.shown(number), locale);
        }

        @Override
        @SuppressWarnings("NullAway") // Spring's parsers may answer null for empty text; JSpecify cannot say so here.
        public T parse(String text, Locale locale) throws ParseException {
            BigDecimal number = NumberText.read(text);
            if (number == null) {
                return null;
            }
            return typed.apply(measure == null ? number : measure.kept(number));
        }
    }

    static Local<Double> doubles(@Nullable Measure measure) {
        return new Local<>(BigDecimal::doubleValue, BigDecimal::valueOf, measure);
    }

    static Local<BigDecimal> decimals(@Nullable Measure measure) {
        return new Local<>(Function.identity(), Function.identity(), measure);
    }

    /** Fields marked {@link Measured}. */
    static final class InUnits implements AnnotationFormatterFactory<Measured> {

        @Override
        public Set<Class<?>> getFieldTypes() {
            return Set.of(Double.class, BigDecimal.class);
        }

        @Override
        public Printer<?> getPrinter(Measured measured, Class<?> type) {
            return local(measured.value(), type);
        }

        @Override
        public Parser<?> getParser(Measured measured, Class<?> type) {
            return local(measured.value(), type);
        }

        private static Local<?> local(Measure measure, Class<?> type) {
            return type == BigDecimal.class ? decimals(measure) : doubles(measure);
        }
    }
}
