package org.rootling.training.web;

import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.Paths;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * The places of a row as items of a list, each its mark, its number and, where a vine stands, the way to it. Written here: a
 * row has hundreds, and the expressions of the templates would cost more than all else on its page.
 */
@Component
class RowStrip {
    private static final String PLACE = "\u0000";

    private final MessageSource messages;

    RowStrip(MessageSource messages) {
        this.messages = messages;
    }

    String of(List<PlaceMark> marks) {
        Locale locale = LocaleContextHolder.getLocale();
        String vines = Paths.to("/vines/");
        MarkupWriter out = new MarkupWriter();
        // Said once for each state, with a sign where the place belongs: to say it for each place costs more than all
        // else.
        Map<String, String> said = new HashMap<>();
        for (PlaceMark mark : marks) {
            String told = said.computeIfAbsent(mark.state(), state -> {
                        String word = messages.getMessage("planting.state." + state, null, locale);
                        return messages.getMessage("training.row.place", new Object[] {PLACE, word}, locale);
                    })
                    .replace(PLACE, Integer.toString(mark.place()));
            out.open("li");
            if (mark.vineId() == null) {
                out.open("span", "title", told);
            } else {
                out.open("a", "href", vines + mark.vineId(), "title", told, "aria-label", told);
            }
            out.open("svg", "viewBox", "0 0 20 20", "width", "20", "height", "20", "aria-hidden", "true")
                    .empty("path", "class", "mark " + mark.state(), "d", mark.path(), "stroke-width", "2")
                    .close("svg")
                    .text("span", Integer.toString(mark.place()))
                    .close(mark.vineId() == null ? "span" : "a")
                    .close("li");
        }
        return out.toString();
    }
}
