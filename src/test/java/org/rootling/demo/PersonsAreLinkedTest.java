package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import org.jsoup.select.Elements;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.VineyardTime;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.config.AutowireCapableBeanFactory;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Wherever a page says who did something, the name leads to that person. */
@AppTest
class PersonsAreLinkedTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    AutowireCapableBeanFactory beans;

    @Autowired
    VineyardTime time;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    Vineyards days;

    @Test
    void namesLeadToPersons() {
        TestVineyard vineyard = vineyards.fresh("Europe/Berlin");
        SeededDemo demo = new SeededDemo(beans, time, jdbc);
        demo.onFirstDay(() -> {
            demo.seed(vineyard);
            demo.awaitEndOfSearches(vineyard);
            check(vineyard);
        });
    }

    private void check(TestVineyard vineyard) {
        TestBrowser owner = vineyard.as(Role.OWNER);
        owner.sendAndFollow("/tokens", "name", "Weatherpost", "role", "READER");
        String measured = one(
                vineyard,
                "select b.code from trellis_reading t join vine_row r on r.id = t.row_id join block b on b.id = r.block_id"
                        + " limit 1");
        String vine = "from vine v join block b on b.id = v.block_id where v.ended_on is null order by v.id limit 1";
        String row = "/rows/" + one(vineyard, "select v.row_id::text " + vine);
        String block = "/year-one/" + one(vineyard, "select b.code " + vine);
        String today = vineyard.inside(days::today).toString();
        String item = owner.open(row).page().select("[name=items]").attr("value");
        owner.sendAndFollow(row + "/ticks", "items", item, "tickOn", today);
        owner.sendAndFollow(block + "/stages", "stage", "09", "seenOn", today);
        List<String> pages = List.of(
                "/history",
                "/tokens",
                "/work",
                "/work/tasks/" + one(vineyard, "select task_id::text from task_log limit 1"),
                "/trellis/blocks/" + measured + "/tension",
                row,
                block,
                "/vines/" + one(vineyard, "select v.id::text " + vine));
        Set<String> persons = new TreeSet<>();
        for (String page : pages) {
            Elements links = owner.open(page).page().select("main a[href*=/people/]");
            assertThat(links).as(page).isNotEmpty();
            links.forEach(link -> {
                assertThat(link.text()).as(page).isNotBlank().doesNotContain("null");
                persons.add(link.attr("href"));
            });
        }
        for (String person : persons) {
            assertThat(owner.open(person.substring(person.indexOf("/people/"))).status())
                    .as(person)
                    .isEqualTo(200);
        }
    }

    private String one(TestVineyard vineyard, String sql) {
        return vineyard.inside(() -> jdbc.sql(sql).query(String.class).single());
    }
}
