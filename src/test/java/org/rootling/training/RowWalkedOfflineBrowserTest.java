package org.rootling.training;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import java.util.List;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.TestField;
import org.rootling.planting.Vine;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** A whole row is walked with the network off: the exceptions, and every vine with two taps; the server has it once. */
@Import(TestField.class)
class RowWalkedOfflineBrowserTest extends BrowserTest {

    private static final int PLANTED = 11;

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    Vines vines;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    TransactionTemplate transaction;

    private TestVineyard vineyard;
    private TestField.Field field;
    private BrowserContext phone;

    /** Three planted rows and one phone whose helper has signed in; each test walks a row of its own. */
    @BeforeAll
    void aFieldAndAPhone() {
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 60);
        for (int row = 1; row <= 3; row++) {
            UUID id = field.row(row).id();
            vineyard.run(() -> vines.plant(new NewPlanting(
                    Ids.next(),
                    id,
                    IntStream.rangeClosed(1, PLANTED).boxed().collect(Collectors.toCollection(TreeSet::new)),
                    field.lot(),
                    fields.today(vineyard).minusDays(50),
                    vineyard.account(Role.HELPER))));
        }
        phone = context(390);
        signedIn(phone, vineyard, Role.HELPER).close();
    }

    @AfterAll
    void putThePhoneAway() {
        phone.close();
    }

    private Page open(String home) {
        phone.setOffline(false);
        Page page = phone.newPage();
        page.navigate(home);
        ready(page);
        return page;
    }

    private String home(UUID row) {
        return "/v/" + vineyard.slug() + "/rows/" + row;
    }

    @Test
    void exceptions_and_two_taps_are_kept_without_signal_and_taken_once_with_it() {
        UUID row = field.row(1).id();
        String home = home(row);
        Page page = open(home);
        phone.setOffline(true);

        page.navigate(home);
        page.selectOption("#rest", "GROWING");
        page.fill("#weak", "3, 9-10");
        page.fill("#dead", "7");
        page.click("text=Record the walk");
        page.waitForSelector("text=Kept on this phone");
        assertThat(text(page, "#walks")).contains("1 walked without signal").doesNotContain("someone else");
        picture(page, "row-offline-390");

        page.navigate(home + "/shoots");
        for (int place = 1; place <= PLANTED; place++) {
            if (place != 7) {
                tap(page, "shoots[" + place + "]", "2");
                tap(page, "height[" + place + "]", "30");
            }
        }
        picture(page, "shoots-offline-390");
        page.click("main form[data-walk] > button");
        page.waitForSelector("text=2 walked without signal");
        assertThat(states(row, VineState.PLANTED)).isEqualTo(PLANTED);

        page.close();
        Page again = phone.newPage();
        again.navigate(home);
        again.waitForSelector("text=2 walked without signal");
        assertThat(states(row, VineState.PLANTED)).isEqualTo(PLANTED);

        phone.setOffline(false);
        again.waitForSelector("text=3 weak: 3, 9-10");
        assertThat(text(again, "main")).contains("1 dead: 7");
        assertThat(again.isVisible("#walks")).isFalse();
        again.close();
        assertThat(states(row, VineState.GROWING)).isEqualTo(PLANTED - 4);
        assertThat(states(row, VineState.DEAD)).isEqualTo(1);
        assertThat(count("select count(*) from vine_observation where row_id = :row", row))
                .isEqualTo(3);
        assertThat(count(
                        "select count(*) from shoot_record where shoots = 2 and height_cm = 30 and row_id = :row", row))
                .isEqualTo(PLANTED - 1);
    }

    /** The server took it, the phone did not hear: it sends again, and the server has it once. */
    @Test
    void an_answer_that_is_lost_makes_no_second_walk() {
        UUID row = field.row(2).id();
        Page page = open(home(row));
        page.evaluate("""
                () => {
                  const real = window.fetch;
                  window.fetch = async (...request) => {
                    const answer = await real(...request);
                    if (String(request[0]).endsWith('/walks')) {
                      sessionStorage.setItem('lost', 'yes');
                      throw new TypeError('the answer was lost');
                    }
                    return answer;
                  };
                }""");
        page.selectOption("#rest", "GROWING");
        page.click("text=Record the walk");
        // Kept, shown again on the row's page, and sent from there.
        page.waitForSelector("text=" + PLANTED + " growing");
        until(page, "async () => (await Walks.all('/v/" + vineyard.slug() + "')).length === 0");
        assertThat(page.evaluate("sessionStorage.getItem('lost')")).isEqualTo("yes");
        page.close();
        assertThat(states(row, VineState.GROWING)).isEqualTo(PLANTED);
        assertThat(count("select count(*) from vine_observation where row_id = :row", row))
                .isEqualTo(1);
    }

    /** What the server refuses stays with its reason: another helper found the vine dead meanwhile. */
    @Test
    void what_cannot_be_taken_is_shown_with_its_reason_and_not_dropped() {
        UUID row = field.row(3).id();
        String home = home(row);
        Page page = open(home);
        phone.setOffline(true);
        page.navigate(home);
        page.fill("#growing", "4");
        page.click("text=Record the walk");
        page.waitForSelector("text=Kept on this phone");
        vineyard.run(() -> vines.observe(
                row,
                new TreeSet<>(List.of(4)),
                VineState.DEAD,
                fields.today(vineyard),
                null,
                vineyard.account(Role.LEAD)));

        phone.setOffline(false);
        page.waitForSelector("#walks:has-text('Not taken: B2 r3')");
        assertThat(text(page, "#walks")).contains("4");
        picture(page, "row-refused-390");
        page.onDialog(dialog -> dialog.accept());
        page.click("#walks button:has-text('Discard')");
        until(page, "document.querySelector('#walks').hidden");
        page.close();
        assertThat(states(row, VineState.DEAD)).isEqualTo(1);
    }

    private static void ready(Page page) {
        until(page, "document.querySelector('#walks').dataset.ready === 'true'");
        until(page, "navigator.serviceWorker.controller !== null");
    }

    private static void tap(Page page, String name, String value) {
        page.click("label:has(input[name='" + name + "'][value='" + value + "'])");
    }

    private long states(UUID row, VineState state) {
        return vineyard.inside(() -> vines.inRow(row)).stream()
                .map(Vine::state)
                .filter(s -> s == state)
                .count();
    }

    private long count(String sql, UUID row) {
        Long count = vineyard.inside(() -> transaction.execute(
                s -> jdbc.sql(sql).param("row", row).query(Long.class).single()));
        return count == null ? -1 : count;
    }
}
