package org.rootling.review.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Element;
import org.jsoup.parser.Parser;
import org.junit.jupiter.api.Test;
import org.rootling.review.calc.HeightSpread;
import org.rootling.review.calc.LifeTable;
import org.rootling.review.calc.SurvivalCurve;

/** The drawings of the review: never blank, nothing outside the paper, no label over a line or another label. */
class PlotsTest {

    private static final SurvivalPlot.Words SURVIVAL =
            new SurvivalPlot.Words("Share alive", "days since planting", "alive", Locale.ENGLISH);

    /** A box around a text, a little generous: a letter of our sans is about 0.5 of its size wide. */
    private record Box(double left, double right, double top, double bottom, String text) {
        boolean meets(Box other) {
            return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
        }
    }

    @Test
    void one_vine_all_dead_all_alive_and_many_equal_curves_are_drawn_with_a_number_each() {
        List<SurvivalCurve> equal = new ArrayList<>();
        for (int i = 0; i < SurvivalPlot.MOST_CURVES; i++) {
            equal.add(SurvivalCurve.of("lot " + i, lives(60, false)));
        }
        for (List<SurvivalCurve> curves : List.of(
                List.of(SurvivalCurve.of("one", new LifeTable().add(0, false, 1))),
                List.of(SurvivalCurve.of("one", new LifeTable().add(0, true, 1))),
                List.of(SurvivalCurve.of("dead", lives(20, true).add(41, true, 1))),
                List.of(SurvivalCurve.of("alive", lives(20, false).add(9000, false, 1))),
                equal)) {
            Element svg = drawn(SurvivalPlot.draw(curves, SURVIVAL));
            assertThat(svg.select("path")).hasSize(curves.size());
            assertThat(svg.select("circle")).hasSize(curves.size());
            assertThat(svg.select("text[font-weight=bold]")).hasSize(curves.size());
            holds(svg);
        }
    }

    @Test
    void heights_are_drawn_in_both_units_wherever_the_wire_is() {
        HeightPlot.Words words = new HeightPlot.Words("Vines by height", "height, cm", "vines", "wire, 80 cm", "cm");
        for (List<Integer> heights :
                List.of(List.of(42), List.of(0, 0, 0), List.of(3, 18, 18, 40, 77, 81, 130), List.of(10, 500))) {
            for (HeightSpread.Scale scale : HeightSpread.Scale.values()) {
                for (int wire : new int[] {10, 80, 400}) {
                    HeightSpread spread = Objects.requireNonNull(HeightSpread.of(heights, scale));
                    Element svg = drawn(HeightPlot.draw(spread, wire, words));
                    assertThat(svg.select("rect")).hasSize(spread.counts().size());
                    assertThat(svg.select("line[stroke-dasharray]")).hasSize(1);
                    holds(svg);
                }
            }
        }
    }

    @Test
    void a_season_of_nothing_has_no_drawing_and_one_of_a_day_has_one() {
        assertThat(SeasonTimeline.draw(List.of(), "Season")).isNull();
        LocalDate day = LocalDate.of(2026, 4, 12);
        List<SeasonTimeline.Line> lines = new ArrayList<>();
        lines.add(new SeasonTimeline.Line("planted", day, day));
        holds(drawn(Objects.requireNonNull(SeasonTimeline.draw(lines, "Season"))));
        lines.add(new SeasonTimeline.Line("in Einschläge oder Lager gebracht", day.minusDays(900), day));
        lines.add(new SeasonTimeline.Line("first winter pruning", day.plusYears(2), day.plusYears(2)));
        Element svg = drawn(Objects.requireNonNull(SeasonTimeline.draw(lines, "Season")));
        assertThat(svg.select("circle")).hasSize(2);
        assertThat(svg.select("rect")).hasSize(1);
        holds(svg);
    }

    private static LifeTable lives(int days, boolean died) {
        return new LifeTable().add(days, died, 2);
    }

    private static Element drawn(String svg) {
        return Objects.requireNonNull(Jsoup.parse(svg, "", Parser.xmlParser()).firstElementChild());
    }

    /** All labels on the paper, none over another, none crossed by a line. */
    private static void holds(Element svg) {
        String[] view = svg.attr("viewBox").split(" ");
        List<Box> labels = svg.select("text").stream().map(PlotsTest::box).toList();
        for (int i = 0; i < labels.size(); i++) {
            Box label = labels.get(i);
            assertThat(label.left()).as(label.text()).isGreaterThanOrEqualTo(0);
            assertThat(label.top()).as(label.text()).isGreaterThanOrEqualTo(0);
            assertThat(label.right()).as(label.text()).isLessThanOrEqualTo(Double.parseDouble(view[2]));
            assertThat(label.bottom()).as(label.text()).isLessThanOrEqualTo(Double.parseDouble(view[3]));
            for (Box other : labels.subList(i + 1, labels.size())) {
                assertThat(label.meets(other)).as(label + " over " + other).isFalse();
            }
            for (Element line : svg.select("line")) {
                assertThat(crossed(label, line))
                        .as(label + " crossed by " + line)
                        .isFalse();
            }
        }
    }

    private static Box box(Element text) {
        double size = number(text, "font-size");
        double width = text.text().length() * size * 0.56;
        double x = number(text, "x");
        double left = switch (text.attr("text-anchor")) {
            case "end" -> x - width;
            case "middle" -> x - width / 2;
            default -> x;
        };
        double y = number(text, "y");
        return new Box(left, left + width, y - 0.75 * size, y, text.text());
    }

    /** Looked at in many points of the line, which may lie aslant. */
    private static boolean crossed(Box label, Element line) {
        for (int i = 0; i <= 400; i++) {
            double at = i / 400.0;
            double x = number(line, "x1") + at * (number(line, "x2") - number(line, "x1"));
            double y = number(line, "y1") + at * (number(line, "y2") - number(line, "y1"));
            if (x > label.left() && x < label.right() && y > label.top() && y < label.bottom()) {
                return true;
            }
        }
        return false;
    }

    private static double number(Element element, String name) {
        return Double.parseDouble(element.attr(name));
    }
}
