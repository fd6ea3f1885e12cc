package org.rootling.weather.web;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import org.rootling.weather.domain.FileUnits;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** The choices of units, in the reader's words. */
@Component
class UnitWords {
    private final MessageSource messages;

    UnitWords(MessageSource messages) {
        this.messages = messages;
    }

    void addTo(Model model, Locale locale) {
        model.addAttribute("temperatures", of("weather.unit.", FileUnits.Temperature.values(), locale));
        model.addAttribute("rains", of("weather.unit.", FileUnits.Rain.values(), locale));
        model.addAttribute("winds", of("weather.unit.", FileUnits.Wind.values(), locale));
        model.addAttribute("radiations", of("weather.unit.", FileUnits.Radiation.values(), locale));
    }

    /** Name and words of each value; the message key is the prefix and the name. */
    Map<String, String> of(String prefix, Enum<?>[] values, Locale locale) {
        Map<String, String> words = new LinkedHashMap<>();
        for (Enum<?> value : values) {
            words.put(value.name(), messages.getMessage(prefix + value.name(), null, locale));
        }
        return words;
    }
}
