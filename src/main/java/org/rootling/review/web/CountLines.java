package org.rootling.review.web;

import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Level;
import org.rootling.planting.VineState;
import org.rootling.platform.DateText;
import org.rootling.platform.MarkupWriter;
import org.rootling.platform.Paths;
import org.rootling.platform.UnitText;
import org.rootling.review.calc.Reorder;
import org.rootling.review.domain.Progress;
import org.rootling.work.Task;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;
import org.springframework.web.util.UriUtils;

/**
 * The lines of the tables of the page of counts, in HTML. Written here, as {@link StateCells} are: they are most of what a
 * template would have to work out for that page.
 */
@Component
public class CountLines {
    private final MessageSource messages;
    private final UnitText units;
    private final StateCells cells;

    CountLines(MessageSource messages, UnitText units, StateCells cells) {
        this.messages = messages;
        this.units = units;
        this.cells = cells;
    }

    /** What is waiting: lot, kind, vines, where, and how long it still may. */
    public String waiting(List<Progress.Waiting> lines) {
        MarkupWriter out = new MarkupWriter();
        for (Progress.Waiting w : lines) {
            String lot = Paths.to("/lots/" + UriUtils.encodePathSegment(w.lot(), StandardCharsets.UTF_8));
            out.open("tr");
            head(out, w.lot(), lot);
            out.close("th");
            cell(out, "kind", say("on", w.variety(), w.rootstock()));
            number(out, "vines", w.count(), lot + "#where");
            String nowhere = say(w.lifted() ? "lifted" : "nowhere");
            cell(out, "where", w.where() == null ? nowhere : w.where());
            out.open("td", "data-label", say("until"));
            level(out, w.level());
            out.text("span", until(w)).close("td").close("tr");
        }
        return out.toString();
    }

    private String until(Progress.Waiting w) {
        LocalDate until = w.until();
        if (until != null) {
            return day(until);
        }
        return say(w.level() == null ? "no-clock" : "not-within-a-year");
    }

    /** As the fragment of the same name writes it. */
    private void level(MarkupWriter out, @Nullable Level level) {
        if (level == null) {
            return;
        }
        String mark = switch (level) {
            case EASY -> "●";
            case SOON -> "▲";
            case OVER -> "■";
        };
        out.open("span", "class", "level " + level.name().toLowerCase(Locale.ROOT))
                .text("span", mark, "aria-hidden", "true")
                .text("span", " " + text("platform.level." + level))
                .close("span")
                .text("span", " ");
    }

    /** Places and vines of blocks. */
    public String blocks(List<Progress.Line> lines) {
        MarkupWriter out = new MarkupWriter();
        Map<VineState, String> words = cells.all();
        String places = say("places");
        String empty = text("review.state.empty");
        for (Progress.Line line : lines) {
            String code = encoded(line.code());
            out.open("tr");
            head(out, line.code(), Paths.to("/progress?block=" + code + "#drawn"));
            out.text("span", " " + line.second(), "class", "soft").close("th");
            number(out, places, line.places(), Paths.to("/blocks/" + code + "#rows"), false);
            number(out, empty, line.empty(), line.empty() > 0 ? Paths.to("/year-one/" + code) : null, false);
            cells.linked(out, line.tally(), Map.of("block", line.code()), words);
            out.close("tr");
        }
        return out.toString();
    }

    /** Vines in place of varieties on rootstocks. */
    public String kinds(List<Progress.Line> lines) {
        MarkupWriter out = new MarkupWriter();
        Map<VineState, String> words = cells.all();
        for (Progress.Line line : lines) {
            Map<String, String> which = Map.of("variety", line.code(), "rootstock", line.second());
            out.open("tr").text("th", line.code(), "scope", "row");
            cell(out, "rootstock", line.second());
            number(
                    out,
                    "in-place",
                    line.tally().present(),
                    Paths.to("/progress/vines?variety=" + encoded(line.code()) + "&rootstock="
                            + encoded(line.second())));
            cells.linked(out, line.tally(), which, words);
            out.close("tr");
        }
        return out.toString();
    }

    /** Ways to the drawings of other blocks. */
    public String others(List<Progress.Line> lines, String shown) {
        MarkupWriter out = new MarkupWriter();
        for (Progress.Line line : lines) {
            if (!line.code().equals(shown)) {
                String code = encoded(line.code());
                out.text("a", line.code(), "href", Paths.to("/progress?block=" + code + "#drawn"));
            }
        }
        return out.toString();
    }

    /** Rows or bands of rows of a drawing: places, and vines by state. */
    public String bands(List<CountController.BandLine> lines) {
        MarkupWriter out = new MarkupWriter();
        for (CountController.BandLine line : lines) {
            out.open("tr");
            if (line.rowId() == null) {
                out.text("th", line.name(), "scope", "row");
            } else {
                head(out, line.name(), Paths.to("/rows/" + line.rowId()));
                out.close("th");
            }
            out.text("td", units.number(line.places(), 0), "class", "num");
            for (VineState state : VineState.values()) {
                out.text("td", units.number(line.of(state), 0), "class", "num");
            }
            out.close("tr");
        }
        return out.toString();
    }

    /** Late tasks, and by their ids whose they are. */
    public String late(List<Task> tasks, Map<UUID, String> names) {
        MarkupWriter out = new MarkupWriter();
        for (Task task : tasks) {
            LocalDate due = task.due();
            out.open("tr");
            head(out, task.stepName(), Paths.to("/work/tasks/" + task.id()));
            out.close("th");
            cell(out, "where", task.row());
            cell(out, "who", names.getOrDefault(task.id(), ""));
            cell(out, "was-due", due == null ? "" : day(due));
            out.close("tr");
        }
        return out.toString();
    }

    /** What to reorder. */
    public String reorder(List<Progress.ReorderLine> lines) {
        MarkupWriter out = new MarkupWriter();
        for (Progress.ReorderLine line : lines) {
            Reorder order = line.order();
            out.open("tr").text("th", line.variety(), "scope", "row");
            cell(out, "rootstock", line.rootstock());
            number(out, "gaps", order.gaps(), Paths.to("/review/replacing"));
            number(out, "in-hand", order.inHand(), Paths.to("/lots/all"));
            number(out, "needed", order.needed(), null);
            number(out, "spares", order.spares(), null);
            number(out, "bundles", order.bundles(), null);
            number(out, say("order"), order.vines(), null, true);
            out.close("tr");
        }
        return out.toString();
    }

    private static void head(MarkupWriter out, String name, String address) {
        out.open("th", "scope", "row").text("a", name, "href", address);
    }

    private void cell(MarkupWriter out, String label, String text) {
        out.text("td", text, "data-label", say(label));
    }

    private void number(MarkupWriter out, String label, int count, @Nullable String address) {
        number(out, say(label), count, address, false);
    }

    private void number(MarkupWriter out, String label, int count, @Nullable String address, boolean strong) {
        out.open("td", "class", "num", "data-label", label);
        String text = units.number(count, 0);
        if (address == null) {
            out.text(strong ? "strong" : "span", text);
        } else {
            out.text("a", text, "href", address);
        }
        out.close("td");
    }

    private static String encoded(String value) {
        return UriUtils.encode(value, StandardCharsets.UTF_8);
    }

    private String day(LocalDate date) {
        return DateText.format(date, "d MMM yyyy", LocaleContextHolder.getLocale());
    }

    private String say(String key, Object... values) {
        return text("review.count." + key, values);
    }

    private String text(String key, Object... values) {
        return messages.getMessage(key, values, LocaleContextHolder.getLocale());
    }
}
