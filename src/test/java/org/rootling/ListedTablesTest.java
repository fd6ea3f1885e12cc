package org.rootling;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.jsoup.parser.Parser;
import org.junit.jupiter.api.Test;

/** Every table whose lines are repeated can be found in, sorted, paged and taken along, or stands here with the reason. */
class ListedTablesTest {

    private static final Path TEMPLATES = Path.of("src/main/resources/templates");
    private static final Pattern SHOWN = Pattern.compile("\\$\\{(\\w+)\\.shown\\(\\)}");
    private static final Pattern WRITTEN = Pattern.compile("\\$\\{\\w+\\.\\w+\\(([\\w.]+(?:\\(\\))?)[^{}]*\\)}");
    private static final String PRINTED = "printed: a PDF is no page";
    private static final String STAKED = "a sheet to walk down with tape and string, in this order";
    private static final String PARTS = "the few parts of one plan";
    private static final String ANSWER = "the few answers of one calculation";
    private static final String WEEK = "the words of one week's picture, in its order";
    private static final String FORM = "a form with a line for each column of a file";

    /** Template and what its lines are of. */
    private static final Map<String, String> NO_LISTS = Map.ofEntries(
            Map.entry("error/409.html ${typed}", "what was typed, to copy it"),
            Map.entry("exchange/import-columns.html ${shown}", FORM),
            Map.entry("exchange/restore-run.html ${run.found.people}", "what an archive holds, before it is put back"),
            Map.entry("exchange/restore-run.html ${run.found.tables}", "what an archive holds, before it is put back"),
            Map.entry("ground/block.html ${sides}", "the sides of one block"),
            Map.entry("ground/choices.html ${choices}", ANSWER),
            Map.entry("ground/stake-out-parts.html ${out.pegs}", STAKED),
            Map.entry("ground/stake-out-parts.html ${r.stretches}", STAKED),
            Map.entry("ground/stake-out-parts.html ${rows}", STAKED),
            Map.entry("ground/tape.html ${result.measures}", "the tapes of one field"),
            Map.entry("ground/vines-in-hand.html ${ways}", ANSWER),
            Map.entry(
                    "help/progress.html ${ {'planted','growing','weak','not-moving','dead','missing'} }", "six words"),
            Map.entry("nursery/bits.html ${hold.allowances}", "three allowances of a hold"),
            Map.entry("nursery/bits.html ${lots}", "inside the Listing of lots.html; the latest few in waiting.html"),
            Map.entry("nursery/how-many.html ${around}", ANSWER),
            Map.entry("nursery/limits.html ${limits}", "nine settings of each kind of store, each beside its source"),
            Map.entry("people/safety.html ${sessions}", "where one person is signed in"),
            Map.entry("review/clusters.html ${ {'along','across','both'} }", "three directions"),
            Map.entry("review/count.html ${late}", "the first few; the list is under Work"),
            Map.entry("review/count.html ${waiting}", "the first few; the list is under Waiting"),
            Map.entry("review/heights.html ${found.shoots}", "shoots of a vine: none to a few"),
            Map.entry("review/heights.html ${s.counts}", "the bars of one drawing"),
            Map.entry("review/season.html ${book.money()}", "four kinds of cost"),
            Map.entry("review/today.html ${soon}", "the first few; the list is under Work"),
            Map.entry("training/water.html ${accounts[0].ahead}", "the days ahead, in their order"),
            Map.entry("trellis/item.html ${needs}", "what one sum is made of, block by block"),
            Map.entry("trellis/begin.html ${canopies}", "the few plans to begin from"),
            Map.entry("trellis/loads.html ${loads.safety}", PARTS),
            Map.entry("trellis/loads.html ${loads.wires}", PARTS),
            Map.entry("trellis/plan.html ${loads.wires}", PARTS),
            Map.entry("trellis/tension.html ${targets}", PARTS),
            Map.entry("weather/import-map.html ${lines}", FORM),
            Map.entry("weather/import-map.html ${someDays}", "the first and last few days of a file"),
            Map.entry("weather/season.html ${view.frost}", "three chances"),
            Map.entry("weather/season.html ${view.months}", "the twelve months of one season, in their order"),
            Map.entry("work/board.html ${pile.tasks}", "the piles of one Listing"),
            Map.entry("work/outlook.html ${helps}", ANSWER),
            Map.entry("work/sheet.html ${s.items}", "one person's day, in its order"),
            Map.entry("work/week.html ${d.people}", WEEK),
            Map.entry("work/week.html ${days}", WEEK),
            Map.entry("work/week.html ${p.slots}", WEEK));

    @Test
    void everyTableOfRepeatedLinesIsAListOrSaysWhyItIsNone() throws IOException {
        Map<String, String> unlisted = new TreeMap<>();
        TreeSet<String> named = new TreeSet<>();
        int lists = 0;
        for (Path template : templates()) {
            String name = TEMPLATES.relativize(template).toString();
            Document page = Jsoup.parse(Files.readString(template), "", Parser.xmlParser());
            for (Element table : page.select("table")) {
                for (String lines : repeated(table)) {
                    Matcher shown = SHOWN.matcher(lines);
                    String line = name + " " + lines;
                    if (name.endsWith("-pdf.html")) {
                        named.add(PRINTED);
                    } else if (NO_LISTS.containsKey(line)) {
                        named.add(line);
                    } else if (!shown.matches()) {
                        unlisted.put(line, "no Listing");
                    } else {
                        lists++;
                        String text = page.outerHtml();
                        if (table.closest("[data-listed]") == null) {
                            unlisted.put(line, "not data-listed");
                        }
                        if (!text.contains("fragments/list :: tools(${" + shown.group(1) + "})")) {
                            unlisted.put(line, "without tools");
                        }
                        if (!Pattern.compile("fragments/list :: (pages|pieces)\\(\\$\\{" + shown.group(1) + "}\\)")
                                .matcher(text)
                                .find()) {
                            unlisted.put(line, "without pages");
                        }
                    }
                }
            }
        }
        assertThat(unlisted).isEmpty();
        assertThat(lists).isGreaterThan(40);
        TreeSet<String> stale = new TreeSet<>(NO_LISTS.keySet());
        stale.removeAll(named);
        assertThat(stale).as("named here, but nowhere in the templates").isEmpty();
    }

    /** What the lines of a table are repeated over; nothing for a table of fixed lines. */
    private static TreeSet<String> repeated(Element table) {
        TreeSet<String> lines = new TreeSet<>();
        for (Element row : table.getElementsByTag("tr")) {
            if (row.closest("thead, tfoot") != null || row.closest("table") != table) {
                continue;
            }
            for (Element at = row; at != null && at != table; at = at.parent()) {
                String each = at.attr("th:each");
                if (!each.isEmpty()) {
                    lines.add(each.substring(each.indexOf(':') + 1).strip());
                }
            }
        }
        for (Element body : table.getElementsByTag("tbody")) {
            // lines written in Java: what of, is the first that is passed on
            Matcher written = WRITTEN.matcher(body.attr("th:utext"));
            if (written.matches()) {
                lines.add("${" + written.group(1) + "}");
            }
        }
        return lines;
    }

    private static Iterable<Path> templates() throws IOException {
        try (Stream<Path> files = Files.walk(TEMPLATES)) {
            return files.filter(f -> f.toString().endsWith(".html")).sorted().toList();
        }
    }
}
