package org.rootling.platform;

import java.util.function.BiFunction;

/**
 * The tools of a {@link Listing} in HTML: find, sort, take along; folded away where there is little to find. Its own
 * parameters only; those of the page stay. Written here: a page may have five, and the expressions of a template would cost
 * as much as all its lines.
 */
final class ListTools {
    private final Listing<?> list;
    private final BiFunction<String, Object[], String> words;
    private final MarkupWriter out = new MarkupWriter();

    /** @param words says a message by its key and values */
    ListTools(Listing<?> list, BiFunction<String, Object[], String> words) {
        this.list = list;
        this.words = words;
    }

    String write() {
        if (!list.isWorthTools()) {
            return "";
        }
        out.open("details", "class", "list-fold no-print", "open", list.isOpen() ? "open" : null)
                .text("summary", say("tools"))
                .open("form", "class", "row list-tools", "method", "get", "action", list.path());
        list.kept().forEach(kept -> out.open("input", "type", "hidden", "name", kept.name(), "value", kept.value()));
        if (list.isSearched()) {
            search();
        }
        if (list.isSorted()) {
            out.open("select", "name", list.name() + "-sort", "aria-label", say("sort"));
            list.orders(this::option);
            out.close("select");
        }
        if (list.isSearched() || list.isSorted()) {
            out.text("button", say("show"), "class", "quiet");
        }
        for (String file : new String[] {"csv", "xlsx"}) {
            out.text("button", say(file), "class", "quiet", "name", "list-" + file, "value", list.name());
        }
        found();
        out.close("form").close("details");
        return out.toString();
    }

    private void search() {
        String id = list.name() + "-find";
        out.text("label", say("narrow"), "for", id)
                .open(
                        "input",
                        "type",
                        "search",
                        "id",
                        id,
                        "name",
                        id,
                        "value",
                        list.find(),
                        "maxlength",
                        Listing.LONGEST,
                        "autocomplete",
                        "off");
    }

    private void option(String order, String text, boolean chosen) {
        out.text("option", text, "value", order, "selected", chosen ? "selected" : null);
    }

    private void found() {
        if (list.find().isEmpty()) {
            return;
        }
        if (list.all() > 0) {
            int found = list.found().size();
            status(found == 0 ? say("none-left") : say("found", found, list.all()));
        } else if (list.shown().isEmpty() && list.next() == null) {
            status(say("none-left"));
        }
    }

    private void status(String text) {
        out.text("span", text, "class", "soft", "role", "status");
    }

    private String say(String key, Object... values) {
        return words.apply("platform.list." + key, values);
    }
}
