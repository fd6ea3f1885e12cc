package org.rootling.ground;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.ground.calc.Alignment;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.ground.calc.Slope;
import org.rootling.ground.domain.Boundary;
import org.rootling.ground.domain.GroundService;
import org.rootling.ground.domain.RowChanges;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.support.AppTest;
import org.rootling.support.Drawn;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** A block of 60 by 40 m in a vineyard of its own. */
@AppTest
class BlocksAndRowsTest {
    static final LayoutSpec SPEC = new LayoutSpec(2.2, 1.2, 6, 2, 0.6, 0.0, 0.0, 3, Alignment.ROW);

    @Autowired
    TestVineyards vineyards;

    @Autowired
    GroundService ground;

    @Autowired
    BlockPlan plan;

    @Autowired
    RowChanges changes;

    @Autowired
    JdbcClient jdbc;

    TestVineyard vineyard;
    Block block;

    @BeforeEach
    void aBlock() {
        vineyard = vineyards.fresh();
        block = vineyard.inside(() -> ground.add("b1", "Long Piece", Boundary.typed(field()), "tree"));
    }

    static Field field() {
        return Field.of(
                List.of(new Point(0, 0), new Point(60, 0), new Point(60, 40), new Point(0, 40)),
                List.of(List.of(new Point(20, 20), new Point(22, 20), new Point(22, 22))));
    }

    private Block laidOut() {
        vineyard.run(() -> ground.accept("B1", block.version(), SPEC));
        return vineyard.inside(() -> ground.blockByCode("b1").orElseThrow());
    }

    @Test
    void anAcceptedLayoutBecomesRowsWithPlacesCountedOverTheirStretches() {
        Block laid = laidOut();
        List<Row> rows = vineyard.inside(() -> ground.rows(laid.id()));
        assertThat(rows).hasSize(26).extracting(Row::number).startsWith(1, 2, 3);
        assertThat(laid.rows()).isEqualTo(26);
        assertThat(laid.places()).isEqualTo(rows.stream().mapToInt(Row::places).sum());
        Row first = rows.get(0);
        assertThat(first.places()).isEqualTo(23);
        // common practice, no source: the first vine stands half a vine spacing from the end post
        assertThat(first.position(1)).isEqualTo(new Point(2, 6.6));
        assertThat(first.position(23).y()).isCloseTo(33, within(1e-9));
        Row cut =
                rows.stream().filter(r -> r.stretches().size() == 2).findFirst().orElseThrow();
        assertThat(cut.stretches().get(1).firstPlace())
                .isEqualTo(cut.stretches().get(0).places() + 1);
        assertThat(cut.position(cut.places()).distance(cut.position(cut.places() - 1)))
                .isCloseTo(1.2, within(1e-9));
    }

    @Test
    void aRunIsResolvedOnlyWithinItsRow() {
        laidOut();
        vineyard.run(() -> {
            assertThat(ground.resolve(PlaceRun.parse("B1 r2 3-5")).places()).containsExactly(3, 4, 5);
            assertThat(ground.resolve(PlaceRun.parse("B1 r2")).places()).hasSize(23);
            for (String wrong : List.of("B1 r2 24", "B1 r99 1", "B9 r1 1")) {
                assertThatThrownBy(() -> ground.resolve(PlaceRun.parse(wrong))).isInstanceOf(Refused.class);
            }
        });
    }

    @Test
    void aNewLayoutReplacesTheRowsAndTheOldOnesCanStillBeLookedUp() {
        Block laid = laidOut();
        Row old = vineyard.inside(() -> ground.row("B1", 1).orElseThrow());
        vineyard.run(() -> ground.accept("B1", laid.version(), SPEC.bearing(90.0)));
        vineyard.run(() -> {
            assertThat(ground.row("B1", 1).orElseThrow().id()).isNotEqualTo(old.id());
            assertThat(ground.row(old.id())).map(Row::places).isEqualTo(Optional.of(23));
            List<Row> rows = ground.rows(laid.id());
            assertThat(rows).hasSizeLessThan(26);
            assertThat(ground.rowMetres(List.of(laid.id())).get(laid.id()))
                    .isCloseTo(rows.stream().mapToDouble(Row::lengthM).sum(), within(1e-6));
        });
    }

    @Test
    void whatIsKeptOfABlockIsWhatItsRowsSayAfterEveryChange() {
        laidOut();
        agree("B1");
        vineyard.run(() -> changes.reverse("B1", version("B1"), 2));
        agree("B1");
        vineyard.run(() -> ground.accept("B1", version("B1"), SPEC.bearing(30.0)));
        agree("B1");
        vineyard.run(() -> changes.renumber("B1", version("B1")));
        agree("B1");
        vineyard.run(() -> changes.split("B1", version("B1"), 4, "B2", "Short Piece"));
        agree("B1");
        agree("B2");
        vineyard.run(() -> ground.fall("B2", version("B2"), new Slope(10, 180), false));
        agree("B2");
        assertThat(vineyard.inside(() -> ground.rowMetres(List.of(id("B2"))).get(id("B2"))))
                .isZero();
    }

    @Test
    void aLongerRowIsCounted() {
        vineyard.run(() -> ground.accept("B1", block.version(), SPEC.bearing(0.0)));
        vineyard.run(() -> ground.bound(
                "B1",
                version("B1"),
                Boundary.typed(Field.of(
                        List.of(new Point(0, 0), new Point(60, 0), new Point(60, 80), new Point(0, 80)), List.of()))));
        double before = metres("B1");
        vineyard.run(() -> changes.lengthen("B1", version("B1"), 1, 5));
        assertThat(metres("B1")).isCloseTo(before + 5 * 1.2, within(1e-9));
        agree("B1");
    }

    @Test
    void metresThatCameUnkeptWithAnOlderArchiveAreAddedUp() {
        laidOut();
        double kept = metres("B1");
        vineyard.run(() -> jdbc.sql("update block set row_metres = null").update());
        assertThat(metres("B1")).isCloseTo(kept, within(1e-6));
    }

    private void agree(String code) {
        List<Row> rows = vineyard.inside(() -> ground.rows(id(code)));
        Block kept = vineyard.inside(() -> ground.requireBlock(code));
        assertThat(kept.rows()).isEqualTo(rows.size());
        assertThat(kept.places()).isEqualTo(rows.stream().mapToInt(Row::places).sum());
        assertThat(metres(code))
                .isCloseTo(rows.stream().mapToDouble(Row::lengthM).sum(), within(1e-6));
        assertThat(vineyard.inside(() -> ground.blocks())).contains(kept);
    }

    private double metres(String code) {
        return vineyard.inside(() -> ground.rowMetres(List.of(id(code))).get(id(code)));
    }

    private UUID id(String code) {
        return vineyard.inside(() -> ground.requireBlock(code)).id();
    }

    private int version(String code) {
        return vineyard.inside(() -> ground.requireBlock(code)).version();
    }

    @Test
    void aStaleEditIsRefused() {
        laidOut();
        assertThatThrownBy(() -> vineyard.run(() -> ground.accept("B1", block.version(), SPEC)))
                .isInstanceOf(Stale.class);
    }

    @Test
    void theSameCodeCannotBeTakenTwice() {
        assertThatThrownBy(() -> vineyard.run(() -> ground.add("B1", "Again", Boundary.typed(field()), "tree")))
                .isInstanceOfSatisfying(
                        Refused.class, e -> assertThat(e.field()).isEqualTo("code"));
    }

    @Test
    void anotherVineyardSeesNothingOfIt() {
        laidOut();
        Row row = vineyard.inside(() -> ground.row("B1", 1).orElseThrow());
        TestVineyard other = vineyards.fresh();
        other.run(() -> {
            assertThat(ground.blocks()).isEmpty();
            assertThat(ground.block(block.id())).isEmpty();
            assertThat(ground.row(row.id())).isEmpty();
            assertThat(ground.rowsById(List.of(row.id()))).isEmpty();
        });
    }

    @Test
    void thePlanShowsBoundaryRowsPostsAndEveryMarkWithColourShapeAndWord() {
        Block laid = laidOut();
        String svg = vineyard.inside(() -> plan.svg(
                laid.id(),
                (row, place) -> row.number() == 1 && place == 2 ? new Mark("dead", "cross", "dead <b>") : null));
        Document page = Jsoup.parse(svg);
        assertThat(page.select("polygon.boundary")).hasSize(1);
        assertThat(page.select("polygon.exclusion")).hasSize(1);
        assertThat(Drawn.marks(page, "svg.plan path.place")).isEqualTo(laid.places() - 1);
        assertThat(page.select("svg.plan path.mark.dead").attr("d"))
                .as("a cross: two lines from a spot of its own")
                .matches("M[\\d.]+ [\\d.]+l[\\d.]+ [\\d.]+m0-[\\d.]+l-[\\d.]+ [\\d.]+");
        assertThat(page.select(".plan-legend").text()).contains("boundary", "headland", "end post", "dead <b>");
        assertThat(page.select("b")).isEmpty();
    }

    @Test
    void everyBoundaryIsKept() {
        Field larger =
                Field.of(List.of(new Point(0, 0), new Point(70, 0), new Point(70, 40), new Point(0, 40)), List.of());
        vineyard.run(() -> ground.bound("B1", block.version(), Boundary.typed(larger)));
        vineyard.run(() -> assertThat(ground.boundaries(block.id()))
                .extracting(b -> b.areaM2())
                .containsExactly(2800.0, 2400.0));
    }
}
