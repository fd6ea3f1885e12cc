package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.Test;

/** Who reads US customary units meets no metric ones, on a page of every route that a link leads to. */
class DemoUnitsTest extends DemoBrowserTest {

    private static final String UNITS = "(?:mm|cm|m|km|ha|kg|L|K|°C|°C·d|m²|m/s|N|N m|N/m|MPa)";
    private static final Pattern METRIC = Pattern.compile("(?:\\d[ \u00a0]?|, )" + UNITS + "(?![\\p{L}’²/·])");

    /** Measures of a tape say the unit they were taken in; sheets of labels are sold in mm; history names stored columns. */
    private static final Set<String> METRIC_FOR_ALL =
            Set.of("/v/{vineyard}/blocks/tape", "/v/{vineyard}/labels", "/v/{vineyard}/history");

    /** The words of a source, and that a height may be typed with any unit. */
    private static final List<String> SAID_AS_IT_IS =
            List.of("34 to 36 °F (1 to 2 °C)", "with its unit: 35 cm, 0.35 m, 14 in");

    @Test
    void aReaderOfCustomaryUnitsMeetsNoMetricOnes() throws IOException {
        TreeSet<String> metric = new TreeSet<>();
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            List<EveryPage.Found> pages = everyPage(desk).pages();
            read(owner, "us");
            try {
                for (EveryPage.Found found : pages) {
                    if (!METRIC_FOR_ALL.contains(found.route())) {
                        metric(EveryPage.read(desk, found.path()))
                                .forEach(said -> metric.add(found.route() + ": " + said));
                    }
                }
                assertThat(pages).hasSizeGreaterThan(80);
            } finally {
                read(owner, "metric");
            }
        }
        assertThat(metric).isEmpty();
    }

    private static List<String> metric(Document page) {
        List<String> metric = new ArrayList<>();
        String text = page.body().text();
        for (String said : SAID_AS_IT_IS) {
            text = text.replace(said, "");
        }
        Matcher here = METRIC.matcher(text);
        while (here.find()) {
            metric.add(text.substring(Math.max(0, here.start() - 40), here.end()));
        }
        for (Element unit : page.select(".unit")) {
            if (unit.text().matches(UNITS)) {
                metric.add(unit.parent().html());
            }
        }
        return metric;
    }

    private static void read(Page owner, String units) {
        owner.navigate("/account");
        owner.selectOption("#units", units);
        owner.click("main form:has(#units) button");
    }
}
