package org.rootling.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jsoup.nodes.Document;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.people.Role;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.Sighting;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** The review reads sums that the database keeps: they are what counting the vines gives, whatever was done to them. */
@AppTest
@Import(ReviewField.class)
class KeptSumsOfLivesTest {

    /** Every sum that is kept otherwise than it is counted, in the current vineyard. */
    private static final String WRONG = """
            with counted as (
              select g.grouping_by, v.block_id, g.member, g.day,
                     case when v.state in ('DEAD', 'MISSING') then 'L' when v.state = 'PLANTED' then 'U' else 'A' end as outcome,
                     v.state_on - v.planted_on as days, count(*)::int as vines
                from vine v join planting p on p.vineyard_id = v.vineyard_id and p.id = v.planting_id
               cross join lateral (values ('BLOCK', v.block_id, null), ('LOT', v.lot_id, null),
                     ('BED', coalesce(p.store_id, '00000000-0000-0000-0000-000000000000'), null),
                     ('PLANTER', v.planted_by, null), ('DAY', '00000000-0000-0000-0000-000000000000', v.planted_on))
                     as g (grouping_by, member, day)
               where v.ended_how is distinct from 'UNDONE'
               group by 1, 2, 3, 4, 5, 6)
            select count(*) from counted c
              full join vine_life_tally k
                on k.grouping_by = c.grouping_by and k.block_id = c.block_id and k.member = c.member
               and k.day = coalesce(c.day, '-infinity') and k.outcome = c.outcome and k.days = c.days
             where c.vines is distinct from k.vines""";

    @Autowired
    TestVineyards vineyards;

    @Autowired
    ReviewField field;

    @Autowired
    Vines vines;

    @Autowired
    Stock stock;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    TransactionTemplate transaction;

    private TestVineyard vineyard;
    private LocalDate today = LocalDate.EPOCH;

    @BeforeEach
    void vineyard() {
        vineyard = vineyards.fresh();
        today = field.today(vineyard);
    }

    @Test
    void walks_replacements_and_plantings_taken_back_are_in_the_sums() {
        ReviewField.Planted planted = field.planted(vineyard);
        assertKept();
        UUID third = planted.rows().get(3);
        UUID replacement = Ids.next();
        plant(replacement, third, places(5, 7), planted.bad(), today.minusDays(10));
        assertKept();
        vineyard.run(() ->
                transaction.executeWithoutResult(s -> vines.undo(replacement, today, vineyard.account(Role.OWNER))));
        assertKept();
        vineyard.run(() -> transaction.executeWithoutResult(s -> vines.walk(
                third,
                List.of(new Sighting(VineState.GROWING, places(5, 6)), new Sighting(VineState.WEAK, places(10, 12))),
                today,
                "shot late",
                vineyard.account(Role.LEAD),
                null)));
        assertKept();
    }

    /** 20 of one bed and 20 of another by one lot each; then 10 that came from both beds at once, which nobody can tell. */
    @Test
    void vines_are_grouped_by_the_bed_they_were_lifted_from() {
        List<UUID> rows = field.block(vineyard, "B1", 3, 20);
        Lot lot = field.lot(vineyard, "Bacchus", "SO4", 100);
        vineyard.run(() -> transaction.executeWithoutResult(s -> {
            UUID shade = store("Shade bed");
            UUID barn = store("Barn");
            UUID inShade = stock.place(lot.id(), shade, 40, today.minusDays(90));
            UUID inBarn = stock.place(lot.id(), barn, 40, today.minusDays(90));
            stock.lift(inShade, 20, today.minusDays(60));
            stock.lift(inBarn, 20, today.minusDays(60));
        }));
        plant(Ids.next(), rows.get(0), places(1, 20), lot, today.minusDays(60));
        UUID wrong = Ids.next();
        plant(wrong, rows.get(1), places(1, 20), lot, today.minusDays(60));
        vineyard.run(() -> transaction.executeWithoutResult(
                s -> vines.undo(wrong, today.minusDays(60), vineyard.account(Role.OWNER))));
        plant(Ids.next(), rows.get(1), places(1, 15), lot, today.minusDays(60));
        // 5 of the barn are lifted still; 20 stand nowhere: both together are of no one bed
        plant(Ids.next(), rows.get(2), places(1, 10), lot, today.minusDays(60));
        field.walk(vineyard, rows.get(0), 20, List.of(1, 2, 3), List.of());

        Document page = page("/review?by=bed");

        assertThat(lines(page)).containsExactly("Barn 15 0", "Shade bed 20 20", "no bed known, or several 10 0");
        assertKept();
    }

    @Test
    void rows_are_grouped_within_one_block_and_in_their_order() {
        field.block(vineyard, "A1", 2, 5);
        List<UUID> rows = field.block(vineyard, "B1", 12, 5);
        Lot lot = field.lot(vineyard, "Bacchus", "SO4", 100);
        for (UUID row : rows) {
            plant(Ids.next(), row, places(1, 5), lot, today.minusDays(60));
        }
        field.walk(vineyard, rows.get(9), 5, List.of(2), List.of());

        assertThat(lines(page("/review?by=row&block=B1")))
                .containsExactly(
                        "row 1 5 0",
                        "row 2 5 0",
                        "row 3 5 0",
                        "row 4 5 0",
                        "row 5 5 0",
                        "row 6 5 0",
                        "row 7 5 0",
                        "row 8 5 0",
                        "row 9 5 0",
                        "row 10 5 5",
                        "row 11 5 0",
                        "row 12 5 0");
        assertThat(page("/review?by=row").text()).contains("row of one block: A1");
        assertThat(lines(page("/review?by=lot&block=A1"))).isEmpty();
        assertThat(vineyard.as(Role.READER).open("/review?by=row&block=none").status())
                .isEqualTo(404);
    }

    private UUID store(String name) {
        return stock.addStore(new Stock.NewStore(name, StoreKind.HEELED_IN, null, null, null, null, null, null));
    }

    /** Name, planted and looked at of each group. */
    private static List<String> lines(Document page) {
        return page.select("section[aria-labelledby=shares] tbody tr").stream()
                .map(tr -> tr.select("th").text() + " "
                        + tr.select("td").stream().limit(2).map(Element::text).collect(Collectors.joining(" ")))
                .toList();
    }

    private Document page(String path) {
        TestBrowser.Answer answer = vineyard.as(Role.READER).open(path);
        assertThat(answer.status()).as(path).isEqualTo(200);
        return answer.page();
    }

    private void plant(UUID reference, UUID row, SortedSet<Integer> places, Lot lot, LocalDate on) {
        vineyard.run(() -> transaction.executeWithoutResult(s ->
                vines.plant(new NewPlanting(reference, row, places, lot.id(), on, vineyard.account(Role.HELPER)))));
    }

    private static SortedSet<Integer> places(int from, int to) {
        return IntStream.rangeClosed(from, to).boxed().collect(Collectors.toCollection(TreeSet::new));
    }

    private void assertKept() {
        Integer wrong = vineyard.inside(() ->
                transaction.execute(s -> jdbc.sql(WRONG).query(Integer.class).single()));
        assertThat(wrong).isZero();
    }
}
