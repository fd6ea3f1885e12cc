package org.rootling.people.web;

import java.util.List;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;

/** Which part of the help a page belongs to. */
final class HelpParts {

    /** Pages by their path behind the vineyard, and a help page with its part; the first that fits counts. */
    private record Part(Pattern pages, String help) {}

    private static final List<Part> PARTS = List.of(
            part("/", "glossary"),
            part("/(more|find|first-hour)", "glossary"),
            part("/(orders|deliveries|how-many|nurseries|vine-lists|labels)(/.*)?", "nursery#order"),
            part("/stores(/.*)?", "nursery#place"),
            part("/(store-limits|calendar)(/.*)?", "nursery#clock"),
            part("/passports", "glossary#passport"),
            part("/lots/[^/]+(/.*)?", "nursery#ledger"),
            part("/lots", "nursery#clock"),
            part("/blocks/[^/]+/(layout|choices|vines-in-hand)", "ground#rows"),
            part("/blocks/[^/]+/rows/.*", "ground#change"),
            part("/blocks/[^/]+/stake-out(/.*)?", "ground#stake"),
            part("/blocks/[^/]+/slope", "ground#slope"),
            part("/blocks(/.*)?", "ground#corners"),
            part("/trellis/order(/.*)?", "trellis#order"),
            part("/trellis/blocks/[^/]+/loads", "trellis#loads"),
            part("/trellis/blocks/[^/]+/tension(/.*)?", "trellis#tension"),
            part("/trellis(/.*)?", "trellis#setting"),
            part("/work/outlook(/.*)?", "work#outlook"),
            part("/work/schedule(/.*)?", "work#reschedule"),
            part("/(work/(sheet|week)|my-day/sheet)(/.*)?", "work#sheets"),
            part("/work/people(/.*)?", "work#day-link"),
            part("/work/conflicts(/.*)?", "work#conflict"),
            part("/work/steps(/.*)?", "work#weather"),
            part("/(work/(hours|tasks)|my-day)(/.*)?", "work#log"),
            part("/work(/.*)?", "work#plan"),
            part("/rows/.*", "year-one#walk"),
            part("/vines/.*", "year-one#vine"),
            part("/(year-one|checklist)(/.*)?", "year-one#checklist"),
            part("/progress(/.*)?", "progress#count"),
            part("/review/heights", "progress#heights"),
            part("/review/clusters", "progress#where"),
            part("/review/sample(/.*)?", "progress#sample"),
            part("/review/season", "progress#season"),
            part("/review/replacing", "progress#reorder"),
            part("/review(/.*)?", "progress#review"),
            part("/weather/settings", "weather#frost"),
            part("/weather", "weather#sums"),
            part("/weather/.*", "weather#record"),
            part("/people/.*", "people#person"),
            part("/people", "people#roles"),
            part("/settings", "people#place"),
            part("/tokens(/.*)?", "people#tokens"),
            part("/history", "people#history"),
            part("/archive(/.*)?", "safety#archive"),
            part("/delete(/.*)?", "safety#end"),
            part("/imports(/.*)?", "tables#import"),
            part("/jobs(/.*)?", "tables#lists"));

    private HelpParts() {}

    private static Part part(String pages, String help) {
        return new Part(Pattern.compile(pages), help);
    }

    /** Help page and part for a page, such as "nursery#clock"; null for the help itself. */
    static @Nullable String of(String path) {
        return PARTS.stream()
                .filter(p -> p.pages().matcher(path).matches())
                .map(Part::help)
                .findFirst()
                .orElse(null);
    }

    /** Every help page and part that a page leads to. */
    static List<String> all() {
        return PARTS.stream().map(Part::help).distinct().toList();
    }
}
