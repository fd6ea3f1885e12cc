package org.rootling.platform.web;

import java.time.Duration;
import java.util.List;
import java.util.Locale;
import org.springframework.beans.propertyeditors.StringTrimmerEditor;
import org.springframework.boot.autoconfigure.web.WebProperties;
import org.springframework.context.annotation.Configuration;
import org.springframework.format.FormatterRegistry;
import org.springframework.format.datetime.standard.DateTimeFormatterRegistrar;
import org.springframework.http.CacheControl;
import org.springframework.web.bind.WebDataBinder;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.servlet.config.annotation.ResourceHandlerRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;
import org.springframework.web.servlet.resource.VersionResourceResolver;

/**
 * How form values become Java values: ISO dates (as browsers send them), empty text as nothing; and where style, scripts
 * and drawings are.
 */
@Configuration(proxyBeanMethods = false)
class WebConfig implements WebMvcConfigurer {

    private final List<String> locations;

    WebConfig(WebProperties web) {
        this.locations = List.of(web.getResources().getStaticLocations());
    }

    /**
     * Only these folders hold static files. A catch-all would make every link of a page a search through all jars, for a
     * file to take a version from: more than half of a page's time.
     */
    @Override
    public void addResourceHandlers(ResourceHandlerRegistry registry) {
        for (String folder : List.of("css", "js", "img")) {
            registry.addResourceHandler("/" + folder + "/**")
                    .addResourceLocations(
                            locations.stream().map(l -> l + folder + "/").toArray(String[]::new))
                    .setCacheControl(CacheControl.maxAge(Duration.ofHours(1)).staleWhileRevalidate(Duration.ofDays(7)))
                    .resourceChain(true)
                    .addResolver(new VersionResourceResolver().addContentVersionStrategy("/**"));
        }
        registry.addResourceHandler("/service-worker.js", "/manifest.webmanifest")
                .addResourceLocations(locations.toArray(String[]::new))
                .setCacheControl(CacheControl.noCache());
    }

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
