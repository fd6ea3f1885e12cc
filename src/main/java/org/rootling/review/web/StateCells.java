package org.rootling.review.web;

import java.nio.charset.StandardCharsets;
import java.util.EnumMap;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import org.rootling.planting.Tally;
import org.rootling.planting.VineState;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.Paths;
import org.rootling.platform.UnitText;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.web.util.UriUtils;

/**
 * Numbers of vines by state as cells of a table, each leading to its vines. Written here: a page has hundreds of them, and
 * the expressions of the templates would cost more than all else on it.
 */
@Component
public class StateCells {
    private final MessageSource messages;
    private final UnitText units;

    StateCells(MessageSource messages, UnitText units) {
        this.messages = messages;
        this.units = units;
    }

    /** A heading for each state: its mark and its word. */
    public String headings() {
        MarkupWriter out = new MarkupWriter();
        for (VineState state : VineState.values()) {
            out.open("th", "scope", "col", "class", "num")
                    .text("span", text("review.mark." + state.key()), "aria-hidden", "true")
                    .text("span", " " + word(state))
                    .close("th");
        }
        return out.toString();
    }

    /** A heading for each state: its word alone. */
    public String words() {
        MarkupWriter out = new MarkupWriter();
        for (VineState state : VineState.values()) {
            out.text("th", word(state), "scope", "col", "class", "num");
        }
        return out.toString();
    }

    /** Of all. */
    public String ofAll(Tally tally) {
        MarkupWriter out = new MarkupWriter();
        linked(out, tally, Map.of(), all());
        return out.toString();
    }

    /** The words of all states. */
    Map<VineState, String> all() {
        Map<VineState, String> words = new EnumMap<>(VineState.class);
        for (VineState state : VineState.values()) {
            words.put(state, word(state));
        }
        return words;
    }

    /** Of those vines that the list of vines shows when it is asked for these; with the words of {@link #all}. */
    void linked(MarkupWriter out, Tally tally, Map<String, String> which, Map<VineState, String> words) {
        StringBuilder address = new StringBuilder(Paths.to("/progress/vines")).append('?');
        new TreeMap<>(which)
                .forEach((name, value) -> address.append(name)
                        .append('=')
                        .append(UriUtils.encode(value, StandardCharsets.UTF_8))
                        .append('&'));
        String vines = address.append("state=").toString();
        for (VineState state : VineState.values()) {
            int count = tally.of(state);
            out.open("td", "class", "num", "data-label", words.get(state));
            if (count > 0) {
                out.text("a", units.number(count, 0), "href", vines + state.key());
            } else {
                out.text("span", "0");
            }
            out.close("td");
        }
    }

    private String word(VineState state) {
        return text("review.state." + state.key());
    }

    private String text(String key) {
        Locale locale = LocaleContextHolder.getLocale();
        return messages.getMessage(key, null, locale);
    }
}
