package org.rootling.ground.domain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.awt.geom.Path2D;
import java.awt.geom.Rectangle2D;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.rootling.platform.MarkupWriter;

/** Marks lie about their middles, in the size asked for; paths are read as SVG 2, section 9.3, has them. */
class MarkPathTest {
    private static final Pattern STEP = Pattern.compile("([MmlhvzZ])([^MmlhvzZ]*)");

    @ParameterizedTest
    @CsvSource({
        "square, 1.7, 1.7, 0",
        "triangle, 2, 1.8, -0.1",
        "cross, 2, 2, 0",
        "dash, 2, 0, 0",
        "house, 2, 2, 0",
        "dot, 0, 0, 0"
    })
    void aMarkLiesAboutItsMiddle(String shape, double wide, double high, double below) {
        MarkPath path = new MarkPath(shape, 1);
        path.add(10, 20);
        Rectangle2D box = box(written(path));
        assertThat(box.getWidth()).isCloseTo(wide, within(1e-9));
        assertThat(box.getHeight()).isCloseTo(high, within(1e-9));
        assertThat(box.getCenterX()).isCloseTo(10, within(1e-9));
        assertThat(box.getCenterY()).isCloseTo(20 + below, within(1e-9));
    }

    @ParameterizedTest
    @CsvSource({"dot, 1, 2.5", "ring, 2, 2.5"})
    void dotsAreRoundCapsAndRingsHaveAHole(String shape, int paths, double outer) {
        MarkPath path = new MarkPath(shape, 1);
        path.add(1, 2);
        path.add(3, 4);
        MarkupWriter out = new MarkupWriter();
        path.write(out, "mark", 0.5);
        String drawn = out.toString();
        assertThat(drawn.split("<path")).hasSize(paths + 1);
        assertThat(drawn).contains("class=\"mark\" d=\"M1 2h0M3 4h0\"", "stroke-width=\"" + outer + "\"");
        if (paths == 2) {
            assertThat(drawn).contains("class=\"hole\"", "stroke-width=\"1.5\"");
        }
    }

    private static String written(MarkPath path) {
        MarkupWriter out = new MarkupWriter();
        path.write(out, "mark", 0.1);
        return out.toString().replaceAll(".* d=\"([^\"]*)\".*", "$1");
    }

    /** The box about all points of a path. */
    private static Rectangle2D box(String d) {
        Path2D path = new Path2D.Double();
        double x = 0;
        double y = 0;
        Matcher step = STEP.matcher(d);
        while (step.find()) {
            double[] by = numbers(step.group(2));
            switch (step.group(1)) {
                case "M" -> {
                    x = by[0];
                    y = by[1];
                    path.moveTo(x, y);
                }
                case "m" -> {
                    x += by[0];
                    y += by[1];
                    path.moveTo(x, y);
                }
                case "l" -> {
                    x += by[0];
                    y += by[1];
                    path.lineTo(x, y);
                }
                case "h" -> {
                    x += by[0];
                    path.lineTo(x, y);
                }
                case "v" -> {
                    y += by[0];
                    path.lineTo(x, y);
                }
                default -> path.closePath();
            }
        }
        return path.getBounds2D();
    }

    private static double[] numbers(String text) {
        Matcher number = Pattern.compile("-?[0-9.]+").matcher(text);
        return number.results().mapToDouble(n -> Double.parseDouble(n.group())).toArray();
    }
}
