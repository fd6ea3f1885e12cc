package org.rootling.training;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.PlaywrightException;
import java.time.LocalDate;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
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

    private static final int PLANTED = 20;

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

    private UUID planted(TestVineyard vineyard) {
        TestField.Field field = fields.make(vineyard, 60);
        LocalDate today = fields.today(vineyard);
        UUID row = field.row(1).id();
        vineyard.run(() -> vines.plant(new NewPlanting(
                Ids.next(),
                row,
                IntStream.rangeClosed(1, PLANTED).boxed().collect(Collectors.toCollection(TreeSet::new)),
                field.lot(),
                today.minusDays(50),
                vineyard.account(Role.HELPER))));
        return row;
    }

    @Test
    void exceptions_and_two_taps_are_kept_without_signal_and_taken_once_with_it() {
        TestVineyard vineyard = vineyards.fresh();
        UUID row = planted(vineyard);
        String home = "/v/" + vineyard.slug() + "/rows/" + row;
        try (BrowserContext phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.HELPER);
            page.navigate(home);
            ready(page);
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
            for (int place = 1; place <= 20; place++) {
                if (place != 7) {
                    tap(page, "shoots[" + place + "]", "2");
                    tap(page, "height[" + place + "]", "30");
                }
            }
            picture(page, "shoots-offline-390");
            page.click("main form[data-walk] > button");
            page.waitForSelector("text=2 walked without signal");
            assertThat(states(vineyard, row, VineState.PLANTED)).isEqualTo(PLANTED);

            page.close();
            Page again = phone.newPage();
            again.navigate(home);
            again.waitForSelector("text=2 walked without signal");
            assertThat(states(vineyard, row, VineState.PLANTED)).isEqualTo(PLANTED);

            phone.setOffline(false);
            again.waitForSelector("text=3 weak: 3, 9-10");
            assertThat(text(again, "main")).contains("1 dead: 7");
            assertThat(again.isVisible("#walks")).isFalse();
        }
        assertThat(states(vineyard, row, VineState.GROWING)).isEqualTo(PLANTED - 4);
        assertThat(states(vineyard, row, VineState.DEAD)).isEqualTo(1);
        assertThat(count(vineyard, "select count(*) from vine_observation")).isEqualTo(3);
        assertThat(count(vineyard, "select count(*) from shoot_record where shoots = 2 and height_cm = 30"))
                .isEqualTo(PLANTED - 1);
    }

    /** The server took it, the phone did not hear: it sends again, and the server has it once. */
    @Test
    void an_answer_that_is_lost_makes_no_second_walk() {
        TestVineyard vineyard = vineyards.fresh();
        UUID row = planted(vineyard);
        String home = "/v/" + vineyard.slug() + "/rows/" + row;
        try (BrowserContext phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.HELPER);
            page.navigate(home);
            ready(page);
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
            page.waitForSelector("text=20 growing");
            until(page, "async () => (await Walks.all('/v/" + vineyard.slug() + "')).length === 0");
            assertThat(page.evaluate("sessionStorage.getItem('lost')")).isEqualTo("yes");
        }
        assertThat(states(vineyard, row, VineState.GROWING)).isEqualTo(PLANTED);
        assertThat(count(vineyard, "select count(*) from vine_observation")).isEqualTo(1);
    }

    /** What the server refuses stays with its reason: another helper found the vine dead meanwhile. */
    @Test
    void what_cannot_be_taken_is_shown_with_its_reason_and_not_dropped() {
        TestVineyard vineyard = vineyards.fresh();
        UUID row = planted(vineyard);
        String home = "/v/" + vineyard.slug() + "/rows/" + row;
        try (BrowserContext phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.HELPER);
            page.navigate(home);
            ready(page);
            phone.setOffline(true);
            page.navigate(home);
            page.fill("#growing", "4");
            page.click("text=Record the walk");
            page.waitForSelector("text=Kept on this phone");
            vineyard.run(() -> vines.observe(
                    row,
                    new TreeSet<>(java.util.List.of(4)),
                    VineState.DEAD,
                    fields.today(vineyard),
                    null,
                    vineyard.account(Role.LEAD)));

            phone.setOffline(false);
            page.waitForSelector("#walks:has-text('Not taken: B2 r1')");
            assertThat(text(page, "#walks")).contains("4");
            picture(page, "row-refused-390");
            page.onDialog(dialog -> dialog.accept());
            page.click("#walks button:has-text('Discard')");
            until(page, "document.querySelector('#walks').hidden");
        }
        assertThat(states(vineyard, row, VineState.DEAD)).isEqualTo(1);
    }

    private static void ready(Page page) {
        until(page, "document.querySelector('#walks').dataset.ready === 'true'");
        until(page, "navigator.serviceWorker.controller !== null");
    }

    /** Waits for a script's answer; the pages' own policy forbids what the driver would inject for it. */
    private static void until(Page page, String truth) {
        for (int i = 0; i < 150; i++) {
            try {
                if (Boolean.TRUE.equals(page.evaluate(truth))) {
                    return;
                }
            } catch (PlaywrightException leaving) {
                // asked while the page was being loaded anew: ask the new one
            }
            page.waitForTimeout(100);
        }
        throw new AssertionError("never came true: " + truth);
    }

    private static void tap(Page page, String name, String value) {
        page.click("label:has(input[name='" + name + "'][value='" + value + "'])");
    }

    private long states(TestVineyard vineyard, UUID row, VineState state) {
        return vineyard.inside(() -> vines.inRow(row)).stream()
                .map(Vine::state)
                .filter(s -> s == state)
                .count();
    }

    private long count(TestVineyard vineyard, String sql) {
        Long count = vineyard.inside(
                () -> transaction.execute(s -> jdbc.sql(sql).query(Long.class).single()));
        return count == null ? -1 : count;
    }
}
