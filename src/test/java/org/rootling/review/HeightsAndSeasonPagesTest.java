package org.rootling.review;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.tuple;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.platform.Tenancy;
import org.rootling.review.domain.SeasonBook;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.training.domain.Shoots;
import org.rootling.weather.calc.Seasons;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.transaction.support.TransactionTemplate;

/** The pages of heights and of the season, from what was recorded. */
@AppTest
@Import(ReviewField.class)
class HeightsAndSeasonPagesTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    ReviewField field;

    @Autowired
    Shoots shoots;

    @Autowired
    SeasonBook book;

    @Autowired
    Steps steps;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    TransactionTemplate transaction;

    @Autowired
    MockMvc mvc;

    private TestVineyard vineyard;
    private LocalDate today = LocalDate.EPOCH;

    @BeforeEach
    void vineyard() {
        vineyard = vineyards.fresh();
        today = field.today(vineyard);
    }

    @Test
    void heights_say_what_is_not_known() {
        assertThat(page("/review/heights").text()).contains("There is no block yet");
        field.planted(vineyard);
        assertThat(page("/review/heights?block=B1").text()).contains("No living vine of this block was measured");
        assertThat(open("/review/heights?block=Z9").status()).isEqualTo(404);
        assertThat(open("/review/heights?block=B1&wire=abc").status()).isBetween(400, 499);
        assertThat(page("/review/heights?block=B1&end=9999-12-31")
                        .select("#end")
                        .attr("value"))
                .doesNotContain("9999");
        assertThat(page("/review/heights?block=B1&wire=-5&season=9999")
                        .select("#wire")
                        .attr("value"))
                .isEqualTo("10");
    }

    /** Row 1 grows 2 cm a day and row 2 hardly: looks 20 days and 6 days ago, in the season of those days. */
    @Test
    void rows_behind_and_vines_that_will_not_reach_the_wire_are_named() {
        ReviewField.Planted planted = field.planted(vineyard);
        LocalDate last = today.minusDays(6);
        if (season(last.minusDays(14)) != season(last)) {
            last = LocalDate.of(season(last) - 1, 12, 31);
        }
        LocalDate first = last.minusDays(14);
        int season = season(last);
        measure(planted.rows().get(0), first, 30);
        measure(planted.rows().get(0), last, 58);
        measure(planted.rows().get(1), last, 20);

        Document page = page("/review/heights?block=B1&season=" + season + "&wire=80&end=" + last.plusDays(12));

        // 20 of row 1 and 19 of row 2, whose seventh is dead
        assertThat(page.select("p.sheet").text()).contains("39 of 109 living vines were measured");
        assertThat(page.select("section[aria-labelledby=behind] tbody th").eachText())
                .containsExactly("B1 r2");
        // 58 cm + 12 days of 2 cm reach 80; 20 cm do not
        assertThat(page.select("section[aria-labelledby=reach] strong").text())
                .contains("of 39 measured vines will not reach it");
        assertThat(page.select("section[aria-labelledby=reach] tbody th").eachText())
                .allMatch(name -> name.startsWith("B1 r2 "))
                .hasSize(19);
        assertThat(page.select("section[aria-labelledby=pace] tbody tr")).isNotEmpty();
        assertThat(page.select("section[aria-labelledby=shoots] tbody td")
                        .get(4)
                        .text())
                .isEqualTo("39");
        assertThat(page.text()).contains("The one shoot is chosen on 39 of 109 living vines");
    }

    /** 60 in = 152.4 cm, exact by definition; the wire is asked for and shown in the unit of the reader. */
    @Test
    void who_thinks_in_inches_reads_inches() throws Exception {
        ReviewField.Planted planted = field.planted(vineyard);
        field.measured(vineyard, planted);
        mvc.perform(post("/account")
                        .param("name", "Rita Reader")
                        .param("locale", "en")
                        .param("units", "us")
                        .with(csrf())
                        .with(TestRequests.as(vineyard, Role.READER)))
                .andExpect(status().isFound());

        Document page = page("/review/heights?block=B1&wire=60");

        assertThat(page.select("#wire").attr("value")).isEqualTo("60");
        assertThat(page.text()).contains("Will they reach 60 in", "Height, in", "wire, 60 in");
        assertThat(page.select("main").text()).doesNotContain(" cm");
    }

    private void measure(UUID row, LocalDate on, int about) {
        Map<Integer, Shoots.Seen> seen = new TreeMap<>();
        for (int place = 1; place <= 20; place++) {
            if (place != 7) {
                seen.put(place, new Shoots.Seen(2, about + place % 3, true));
            } else if (about != 20) {
                seen.put(place, new Shoots.Seen(2, about, true));
            }
        }
        vineyard.run(() ->
                transaction.executeWithoutResult(s -> shoots.record(row, seen, on, vineyard.account(Role.HELPER))));
    }

    @Test
    void a_season_tells_what_happened_when() {
        assertThat(page("/review/season").text()).contains("No vine is planted yet");
        field.planted(vineyard);

        Document page = page("/review/season");

        assertThat(page.select("h1").text()).isEqualTo("Planting season " + season(today.minusDays(60)));
        assertThat(page.select("ol.story b").eachText()).startsWith("delivered", "planted");
        assertThat(page.select(
                        "section[aria-labelledby=timeline] svg rect, section[aria-labelledby=timeline] svg circle"))
                .isNotEmpty();
        // 120 places of 2.0 x 1.2 m: 288 m2
        assertThat(page.select("section[aria-labelledby=beside] td").eachText()).startsWith("120", "0.029 ha", "0.0");
        assertThat(page.text()).doesNotContain("Cost a vine");
        assertThat(vineyard.as(Role.LEAD).open("/review/season").page().text()).contains("Cost a vine");
    }

    /**
     * Two hours at 15 an hour, 120 vines at 2.40 as ordered and 2.20 as charged, and 90 + 12 for wire: by hand 30.00 +
     * 264.00 + 102.00 = 396.00, 3.30 a vine.
     */
    @Test
    void hours_and_cost_are_those_of_the_rows_and_against_the_plan() {
        ReviewField.Planted planted = field.planted(vineyard);
        UUID row = planted.rows().get(0);
        vineyard.run(() -> transaction.executeWithoutResult(s -> {
            UUID task = UUID.randomUUID();
            UUID log = UUID.randomUUID();
            UUID helper = vineyard.account(Role.HELPER);
            jdbc.sql("""
                            insert into task (id, step, row_id, places, quantity, done_places, done, status, ended_on)
                            values (:id, 'GUARD', :row, '{[1,21)}', 20, '{[1,21)}', 20, 'DONE', :on)""")
                    .param("id", task)
                    .param("row", row)
                    .param("on", today.minusDays(59))
                    .update();
            jdbc.sql("""
                            insert into task_log (id, task_id, places, place_count, minutes, on_day, at, by_account, taken_at)
                            values (:id, :task, '{[1,21)}', 20, 120, :on, now(), :by, now())""")
                    .param("id", log)
                    .param("task", task)
                    .param("on", today.minusDays(59))
                    .param("by", helper)
                    .update();
            jdbc.sql("""
                            insert into work_person (id, account_id, name, hours, wage, currency)
                            values (gen_random_uuid(), :by, 'Hana', '{8,8,8,8,8,0,0}', 15, 'EUR')""").param("by", helper).update();
            Step guard = steps.byCode("GUARD").orElseThrow();
            steps.change(
                    "GUARD",
                    new Steps.Settings(null, 1, 3, null, null, List.of("PLANT"), 0, true, BigDecimal.valueOf(3)),
                    guard.version());
            UUID order = UUID.randomUUID();
            jdbc.sql("""
                            insert into nursery_order (id, supplier_id, reference, ordered_on, currency)
                            select :id, id, 'O1', :on, 'EUR' from supplier limit 1""").param("id", order).param("on", today.minusDays(200)).update();
            jdbc.sql("""
                            insert into order_line (id, order_id, line_no, variety, rootstock, vines, price_each)
                            values (gen_random_uuid(), :order, 1, 'Bacchus', 'SO4', 150, 2.40)""").param("order", order).update();
            jdbc.sql("update delivery_line set price_each = 2.20,"
                            + " order_line_id = (select id from order_line where order_id = :order)")
                    .param("order", order)
                    .update();
            jdbc.sql("""
                            insert into trellis_purchase (id, item_key, block_id, quantity, bought_on, paid)
                            select gen_random_uuid(), 'WIRE', b, 1, d, m from (values
                              ((select id from block), cast(:before as date), 90.00), (null, cast(:before as date), 12.00),
                              (null, cast(:before as date), null), (null, cast(:after as date), 1000.00)) x (b, d, m)""")
                    .param("before", today.minusDays(70))
                    .param("after", LocalDate.of(season(today.minusDays(60)) + 1, 1, 1))
                    .update();
        }));

        SeasonBook.Book found = vineyard.inside(() -> book.book(null));

        assertThat(found.events()).extracting(SeasonBook.Event::key).startsWith("ordered", "received", "planted");
        SeasonBook.Sums sums = found.sums();
        assertThat(sums.hours()).isEqualByComparingTo("2.0");
        assertThat(sums.costs()).hasSize(1);
        assertThat(sums.costs().get(0).labour()).isEqualByComparingTo("30.00");
        assertThat(sums.costs().get(0).vines()).isEqualByComparingTo("264.00");
        assertThat(sums.costs().get(0).material()).isEqualByComparingTo("102.00");
        assertThat(sums.unpriced()).isZero();
        assertThat(sums.unpricedPurchases()).isEqualTo(1);
        assertThat(sums.perVine(sums.costs().get(0).all())).isEqualByComparingTo("3.30");
        // 396 / 0.0288 ha
        assertThat(sums.perHectare(sums.costs().get(0).all())).isEqualByComparingTo("13750");
        // one planned hour at 15, 120 vines at 2.40; no trellis is planned, so neither is the sum
        assertThat(found.money())
                .extracting(SeasonBook.Money::kind, SeasonBook.Money::spent, SeasonBook.Money::planned)
                .containsExactly(
                        tuple("labour", new BigDecimal("30.00"), new BigDecimal("15.00")),
                        tuple("vines", new BigDecimal("264.00"), new BigDecimal("288.00")),
                        tuple("material", new BigDecimal("102.00"), null),
                        tuple("all", new BigDecimal("396.00"), null));
        Document page = vineyard.as(Role.LEAD).open("/review/season").page();
        assertThat(page.select("section[aria-labelledby=money] tbody tr").eachText())
                .contains("Vines 264.00 EUR 288.00 EUR 2.20 9,167");
        assertThat(page.text()).contains("One purchase of material has no price");
        assertThat(page("/review/season").select("section[aria-labelledby=money]"))
                .isEmpty();
        SeasonBook.Labour guard = found.labour().stream()
                .filter(l -> l.quantity() == 20)
                .findFirst()
                .orElseThrow();
        // 20 places of 3 minutes
        assertThat(guard.plannedForDone()).isEqualByComparingTo("1.0");
    }

    /** The owner of two sees both; a lead, and the owner of another alone, see only this one. */
    @Test
    void other_vineyards_are_compared_only_for_their_owner() {
        TestVineyard other = vineyards.fresh();
        field.planted(vineyard);
        field.planted(other);
        UUID owner = vineyard.account(Role.OWNER);
        other.run(() -> transaction.executeWithoutResult(
                s -> jdbc.sql("insert into membership (id, account_id, role) values (gen_random_uuid(), :a, 'READER')")
                        .param("a", owner)
                        .update()));

        assertThat(seasonsSeenBy(owner)).containsExactly(vineyard.slug());

        other.run(() -> transaction.executeWithoutResult(
                s -> jdbc.sql("update membership set role = 'OWNER' where account_id = :a")
                        .param("a", owner)
                        .update()));
        assertThat(seasonsSeenBy(owner)).containsExactly(vineyard.slug(), other.slug());
        assertThat(seasonsSeenBy(vineyard.account(Role.LEAD))).containsExactly(vineyard.slug());
        assertThat(vineyard.as(Role.OWNER)
                        .open("/review/season")
                        .page()
                        .select("section[aria-labelledby=beside] tbody th"))
                .hasSize(2);
    }

    private List<String> seasonsSeenBy(UUID account) {
        return Tenancy.as(
                vineyard.id(),
                account,
                () -> book.compared().stream()
                        .map(SeasonBook.Sums::slug)
                        .distinct()
                        .toList());
    }

    private static int season(LocalDate day) {
        return Seasons.of(day, false);
    }

    private Document page(String path) {
        TestBrowser.Answer answer = open(path);
        assertThat(answer.status()).as(path).isEqualTo(200);
        return answer.page();
    }

    private TestBrowser.Answer open(String path) {
        return vineyard.as(Role.READER).open(path);
    }
}
