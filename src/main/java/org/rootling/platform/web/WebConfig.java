package org.rootling.platform.web;

import java.math.BigDecimal;
import org.springframework.beans.propertyeditors.StringTrimmerEditor;
import org.springframework.context.annotation.Configuration;
import org.springframework.format.FormatterRegistry;
import org.springframework.format.datetime.standard.DateTimeFormatterRegistrar;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;

/** How form values become Java values: ISO dates (as browsers send them), numbers by {@link FormNumbers}. */
@Configuration(proxyBeanMethods = false)
class WebConfig implements WebMvcConfigurer {

    @Override
    public void addFormatters(FormatterRegistry registry) {
        DateTimeFormatterRegistrar iso = new DateTimeFormatterRegistrar();
        iso.setUseIsoFormat(true);
        iso.registerFormatters(registry);
        registry.addFormatterForFieldType(Double.class, FormNumbers.doubles(null));
        registry.addFormatterForFieldType(BigDecimal.class, FormNumbers.decimals(null));
        registry.addFormatterForFieldAnnotation(new FormNumbers.InUnits());
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
