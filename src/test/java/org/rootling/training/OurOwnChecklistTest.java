package org.rootling.training;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.MonthDay;
import java.util.List;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyards;
import org.rootling.training.calc.Timing;
import org.rootling.training.domain.Checklist;
import org.springframework.beans.factory.annotation.Autowired;

/** The checklist that a vineyard begins with, as nobody has changed it yet. */
@AppTest
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class OurOwnChecklistTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Checklist checklist;

    private List<CareItem> items = List.of();

    @BeforeAll
    void aVineyardThatBegins() {
        items = vineyards.fresh().inside(() -> checklist.items());
    }

    private CareItem item(String code) {
        return items.stream().filter(i -> i.code().equals(code)).findFirst().orElseThrow();
    }

    /** Common practice, no source: about 10 cm; published advice ranges from 4 to 15 cm (01-planting-material). */
    @Test
    void the_graft_item_says_that_its_figure_has_no_source_and_gives_the_published_range() {
        CareItem graft = item("graft-clear");
        assertThat(graft.how()).contains("about 10 cm");
        assertThat(graft.source())
                .contains("common practice, no source")
                .contains("4 cm")
                .contains("15 cm");
        assertThat(graft.howKnown()).isEqualTo("common practice");
    }

    /** P01, P02: Stafne, eXtension: 2 to 3 US gal per vine at planting; 1 US gal = 3.785 L. */
    @Test
    void the_water_of_the_first_day_is_the_published_one() {
        assertThat(2 * 3.785).isCloseTo(7.6, org.assertj.core.api.Assertions.within(0.05));
        assertThat(3 * 3.785).isCloseTo(11.4, org.assertj.core.api.Assertions.within(0.05));
        assertThat(item("water-in").how()).contains("7.6 to 11.4 litres");
    }

    @Test
    void every_item_says_why_how_and_where_it_comes_from() {
        assertThat(items).hasSizeGreaterThan(20).allSatisfy(i -> {
            assertThat(i.why()).isNotBlank();
            assertThat(i.how()).isNotBlank();
            assertThat(i.source()).isNotBlank();
            assertThat(i.howKnown()).isIn("read", "memory", "common practice");
            assertThat(i.drawn()).as(i.code()).isTrue();
            assertThat(getClass().getResource("/static/img/care/" + i.code() + ".svg"))
                    .as(i.code())
                    .isNotNull();
        });
    }

    @Test
    void dates_of_the_list_lie_half_a_year_apart_in_the_south() {
        assertThat(Timing.OnDate.onOrAfter(MonthDay.of(10, 25), LocalDate.of(2026, 10, 1), true))
                .isEqualTo(LocalDate.of(2027, 4, 25));
    }
}
