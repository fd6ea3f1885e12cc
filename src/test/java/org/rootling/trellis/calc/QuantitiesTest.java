package org.rootling.trellis.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.doubles;
import static org.quicktheories.generators.SourceDSL.integers;

import java.math.BigDecimal;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;

class QuantitiesTest {
    private static final double FOOT = 0.3048;

    @Test
    void linePostsAreTheFewestWithinTheSpan() {
        assertThat(LinePosts.bySpan(84, 6).count()).isEqualTo(13);
        assertThat(LinePosts.bySpan(84.01, 6).count()).isEqualTo(14);
        qt().forAll(doubles().between(1, 500), doubles().between(2, 12)).check((length, max) -> {
            LinePosts posts = LinePosts.bySpan(length, max);
            return posts.spanM() <= max + 1e-6
                    && (posts.count() == 0 || length / posts.count() > max)
                    && Math.abs(posts.spanM() * (posts.count() + 1) - length) < 1e-9;
        });
    }

    @Test
    void publishedAcreHasEightTopBarsARow() {
        // T15: UNH kiwiberry guide: 19 rows of 210 ft with 30-ft bays, 152 top bars, one on every post: 7 bays, 6 line
        // posts and 2 ends a row.
        int perRow = LinePosts.bySpan(210 * FOOT, 30 * FOOT).count() + 2;
        assertThat(19 * perRow).isEqualTo(152);
    }

    @Test
    void postsByVinesStandHalfWayBetweenTwoVines() {
        // 70 vines, 1.2 m apart, a post every 5 vines: 14 bays of 6 m.
        assertThat(LinePosts.byVines(70, 5, 1.2, 0.6)).isEqualTo(new LinePosts(13, 6.0));
        assertThat(LinePosts.byVines(4, 5, 1.2, 0.6).count()).isZero();
        assertThat(LinePosts.byVines(4, 5, 1.2, 0.6).spanM()).isCloseTo(4.8, within(1e-9));
    }

    @Test
    void publishedRowsTakeTheirPublishedWire() {
        // T13: Iowa State Univ., Cost of Establishing a Vineyard: 11 rows x 448 ft x 2 wires = 9856 ft before tails.
        CutPlan cut = CutPlan.of(Collections.nCopies(22, 448 * FOOT), 1e6);
        assertThat(cut.metres() / FOOT).isCloseTo(9856, within(1e-6));
        assertThat(cut.coils()).isEqualTo(1);
        assertThat(cut.joins()).isZero();
    }

    @Test
    void aHectareOfSixWiresTakesTwentyFourKilometres() {
        // T14: rows 2.5 m apart: 40 rows of 100 m, 6 wires.
        assertThat(CutPlan.of(Collections.nCopies(240, 100.0), 1e6).metres()).isCloseTo(24_000, within(1e-6));
    }

    @Test
    void aCoilThatEndsInARunIsJoinedOn() {
        CutPlan cut = CutPlan.of(List.of(60.0, 60.0, 60.0), 100);
        assertThat(cut.coils()).isEqualTo(2);
        assertThat(cut.joins()).isEqualTo(1);
        assertThat(cut.metres()).isCloseTo(180.3, within(1e-9));
    }

    @Test
    void coilsAlwaysHoldTheirMetres() {
        qt().forAll(
                        integers().between(1, 60),
                        doubles().between(5, 400),
                        doubles().between(50, 1500))
                .check((n, run, coil) -> {
                    CutPlan cut = CutPlan.of(Collections.nCopies(n, run), coil);
                    return cut.metres() >= n * run - 1e-6
                            && Math.ceil(cut.metres() / coil - 1e-9) == cut.coils()
                            && cut.metres() <= n * run + cut.joins() * CutPlan.JOIN_M + 2.0 * cut.coils() + 1e-6;
                });
    }

    @Test
    void takeOffCountsEveryPartOfABlock() {
        TrellisSpec spec = StartingPlans.MEDIUM.spec();
        List<RowLine> rows = Collections.nCopies(10, new RowLine(84, 70, 1.2, 0.6));
        Map<Item.Kind, Item> items =
                new TakeOff().add(spec, rows).items().stream().collect(Collectors.toMap(Item::kind, i -> i));
        assertThat(items.get(Item.Kind.END_POST).quantity()).isEqualTo(20);
        assertThat(items.get(Item.Kind.ANCHOR).quantity()).isEqualTo(20);
        assertThat(items.get(Item.Kind.LINE_POST).quantity()).isEqualTo(130);
        assertThat(items.get(Item.Kind.STAKE).quantity()).isEqualTo(700);
        assertThat(items.get(Item.Kind.GUARD).quantity()).isEqualTo(700);
        assertThat(items.get(Item.Kind.CLIP).quantity()).isEqualTo(1400);
        // 6 wires: 10 rows x 6 x (84 + 2) m = 5160 m, 7 joins at most over 8 coils
        assertThat(items.get(Item.Kind.WIRE).quantity()).isBetween(5160.0, 5165.0);
        assertThat(items.get(Item.Kind.TENSIONER).quantity()).isEqualTo(60);
        assertThat(items.get(Item.Kind.STAPLE).quantity()).isCloseTo(6 * 150 / 180.0, within(1e-9));
        double tie = 2 * (spec.tie().lengthM() + 1) * 20;
        assertThat(items.get(Item.Kind.TIE_WIRE).quantity()).isCloseTo(tie, within(1e-9));
    }

    @Test
    void equalThingsOfTwoBlocksAreOneLine() {
        List<RowLine> rows = List.of(new RowLine(40, 33, 1.2, 0.6));
        TakeOff sum = new TakeOff().add(StartingPlans.MEDIUM.spec(), rows).add(StartingPlans.LOW.spec(), rows);
        assertThat(sum.items().stream().filter(i -> i.kind() == Item.Kind.WIRE)).hasSize(1);
        assertThat(sum.items().stream().filter(i -> i.kind() == Item.Kind.END_POST))
                .hasSize(2);
        assertThat(sum.vines()).isEqualTo(66);
        assertThat(sum.items().stream().map(Item::key).distinct().count())
                .isEqualTo(sum.items().size());
    }

    @Test
    void packsAreRoundedUpAndWhatWasBoughtIsSubtracted() {
        Item guards = new Item(Item.Kind.GUARD, null, 0, 0, 700);
        OrderLine.Terms terms = new OrderLine.Terms(new BigDecimal("50"), new BigDecimal("41.25"), new BigDecimal("2"));
        OrderLine line = OrderLine.of(guards, terms, BigDecimal.ZERO);
        assertThat(line.needed()).isEqualByComparingTo("714");
        assertThat(line.packs()).isEqualTo(15);
        assertThat(line.cost()).isEqualByComparingTo("618.75");
        OrderLine rest = OrderLine.of(guards, terms, new BigDecimal("700"));
        assertThat(rest.toBuy()).isEqualByComparingTo("14");
        assertThat(rest.packs()).isEqualTo(1);
        OrderLine done = OrderLine.of(guards, terms, new BigDecimal("800"));
        assertThat(done.toBuy()).isEqualByComparingTo("0");
        assertThat(done.packs()).isZero();
        assertThat(done.cost()).isEqualByComparingTo("0");
    }

    @Test
    void noPriceMeansNoCostRatherThanNothingToPay() {
        Item clips = new Item(Item.Kind.CLIP, null, 0, 0, 10);
        assertThat(OrderLine.of(clips, OrderLine.Terms.usual(clips), BigDecimal.ZERO)
                        .cost())
                .isNull();
    }
}
