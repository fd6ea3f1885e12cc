package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.rootling.ground.Point;
import org.rootling.platform.Refused;

/** What may be a field, and what is said about what may not. */
class FieldTest {

    static List<Point> ring(double... xy) {
        List<Point> points = new ArrayList<>();
        for (int i = 0; i < xy.length; i += 2) {
            points.add(new Point(xy[i], xy[i + 1]));
        }
        return points;
    }

    private static Refused refusal(List<Point> ring) {
        return refusal(ring, List.of());
    }

    private static Refused refusal(List<Point> ring, List<List<Point>> exclusions) {
        try {
            Field.of(ring, exclusions);
        } catch (Refused e) {
            return e;
        }
        throw new AssertionError("not refused");
    }

    @Test
    void areaByCoordinatesAgreesWithTheGeometryLibrary() {
        qt().forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Field field = RandomFields.field(seed);
            assertThat(field.areaM2()).isCloseTo(field.outline().getArea(), within(1e-6));
        });
    }

    @Test
    void aClockwiseOrClosedRingIsTheSameField() {
        List<Point> ring = ring(0, 0, 60, 0, 60, 40, 0, 40);
        List<Point> clockwise = new ArrayList<>(ring);
        Collections.reverse(clockwise);
        List<Point> closed = new ArrayList<>(ring);
        closed.add(ring.get(0));
        assertThat(Field.of(clockwise, List.of()).areaM2()).isEqualTo(2400);
        assertThat(Field.of(closed, List.of()).boundary()).isEqualTo(ring);
    }

    @Test
    void aBoundaryThatCrossesItselfIsRefusedWithThePlace() {
        Refused refused = refusal(ring(0, 0, 40, 40, 40, 0, 0, 40));
        assertThat(refused.key()).isEqualTo("ground.polygon.crosses-itself");
        assertThat(refused.args()).extracting(String::valueOf).containsExactly("20 m", "20 m");
        assertThat(refused.field()).isEqualTo("boundary");
    }

    @Test
    void aLineASliverAndAPointAreRefused() {
        assertThat(refusal(ring(0, 0, 100, 0, 100, 0.005, 0, 0.005)).key()).isEqualTo("ground.polygon.no-area");
        assertThat(refusal(ring(0, 0, 100, 0)).key()).isEqualTo("ground.polygon.too-few-corners");
        assertThat(refusal(ring(5, 5, 5, 5, 5, 5, 5, 5)).key()).isEqualTo("ground.polygon.too-few-corners");
        assertThat(refusal(ring()).key()).isEqualTo("ground.polygon.too-few-corners");
        assertThat(refusal(ring(0, 0, 50, 0, 100, 0)).key())
                .isIn("ground.polygon.no-area", "ground.polygon.crosses-itself");
    }

    @Test
    void tenThousandCornersAreRefused() {
        List<Point> many = new ArrayList<>();
        for (int i = 0; i < 10_000; i++) {
            many.add(new Point(100 * Math.cos(i * 2e-4 * Math.PI), 100 * Math.sin(i * 2e-4 * Math.PI)));
        }
        assertThat(refusal(many).key()).isEqualTo("ground.polygon.too-many-corners");
    }

    @Test
    void nonsenseNumbersAreRefused() {
        assertThat(refusal(ring(0, 0, Double.NaN, 0, 1, 1)).key()).isEqualTo("ground.polygon.not-a-number");
        assertThat(refusal(ring(0, 0, Double.POSITIVE_INFINITY, 0, 1, 1)).key())
                .isEqualTo("ground.polygon.not-a-number");
        assertThat(refusal(ring(0, 0, 1e9, 0, 1e9, 1e9)).key()).isEqualTo("ground.polygon.not-a-number");
        assertThat(refusal(ring(0, 0, 1e6, 0, 1e6, 1e6)).key()).isEqualTo("ground.polygon.too-wide");
    }

    @Test
    void anExclusionOutsideTheFieldIsRefused() {
        Refused refused =
                refusal(ring(0, 0, 60, 0, 60, 40, 0, 40), List.of(ring(70, 0, 80, 0, 80, 10), ring(1, 1, 2, 1, 2, 2)));
        assertThat(refused.key()).isEqualTo("ground.polygon.exclusion-outside");
        assertThat(refused.args()).containsExactly(1);
        assertThat(refused.field()).isEqualTo("exclusions");
    }

    @Test
    void spacingsOutOfAllReasonAreRefused() {
        assertThatThrownBy(() -> LayoutSpec.of(0, 1.2, 6, 2))
                .isInstanceOfSatisfying(
                        Refused.class, e -> assertThat(e.field()).isEqualTo("rowSpacingM"));
        assertThatThrownBy(() -> LayoutSpec.of(2.2, 1e9, 6, 2))
                .isInstanceOfSatisfying(
                        Refused.class, e -> assertThat(e.field()).isEqualTo("vineSpacingM"));
        assertThatThrownBy(() -> LayoutSpec.of(2.2, Double.NaN, 6, 2)).isInstanceOf(Refused.class);
        assertThatThrownBy(() -> LayoutSpec.of(2.2, 1.2, -1, 2)).isInstanceOf(Refused.class);
        assertThatThrownBy(() -> LayoutSpec.of(2.2, 1.2, 6, 2).bearing(180.0)).isInstanceOf(Refused.class);
    }
}
