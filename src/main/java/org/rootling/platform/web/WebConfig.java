package org.rootling.platform.web;

import java.util.Locale;
import org.springframework.beans.propertyeditors.StringTrimmerEditor;
import org.springframework.context.annotation.Configuration;
import org.springframework.format.FormatterRegistry;
import org.springframework.format.datetime.standard.DateTimeFormatterRegistrar;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;

/** How form values become Java values: ISO dates (as browsers send them), empty text as nothing. */
@Configuration(proxyBeanMethods = false)
class WebConfig implements WebMvcConfigurer {

    @Override
    public void addFormatters(FormatterRegistry registry) {
        DateTimeFormatterRegistrar iso = new DateTimeFormatterRegistrar();
        iso.setUseIsoFormat(true);
        iso.registerFormatters(registry);
        registry.addConverter(String.class, Double.class, WebConfig::number);
        registry.addConverter(String.class, java.math.BigDecimal.class, WebConfig::decimal);
    }

    /** Reads "1.5" and "1,5"; anything else is a type mismatch at the field. */
    @SuppressWarnings("NullAway") // Spring's converters may answer null for empty text; JSpecify cannot say so here.
    static Double number(String text) {
        java.math.BigDecimal value = decimal(text);
        return value == null ? null : value.doubleValue();
    }

    @SuppressWarnings("NullAway") // Spring's converters may answer null for empty text; JSpecify cannot say so here.
    static java.math.BigDecimal decimal(String text) {
        String plain = text.strip().toUpperCase(Locale.ROOT).replace(',', '.');
        if (plain.isEmpty()) {
            return null;
        }
        // Without this bound "1e999999999" would be a number of a billion digits.
        if (plain.length() > 24 || !plain.matches("[+-]?[0-9]*\\.?[0-9]+(E[+-]?[0-9]{1,2})?|[+-]?[0-9]+\\.")) {
            throw new IllegalArgumentException("not a number");
        }
        return new java.math.BigDecimal(plain);
    }

    /** Applies to every form. */
    @ControllerAdvice
    static class Binding {
        @InitBinder
        void bind(WebDataBinder binder) {
            binder.registerCustomEditor(String.class, new StringTrimmerEditor(true));
        }
    }
}
