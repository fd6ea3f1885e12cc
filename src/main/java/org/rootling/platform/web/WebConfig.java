package org.rootling.platform.web;

import java.math.BigDecimal;
import java.time.Duration;
import java.util.List;
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
 * How form values become Java values: ISO dates (as browsers send them), numbers by {@link FormNumbers}; and where style,
 * scripts and drawings are.
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
