package org.rootling.work;

import static com.microsoft.playwright.assertions.PlaywrightAssertions.assertThat;
import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.WaitForSelectorState;
import java.math.BigDecimal;
import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.Test;
import org.rootling.people.Guests;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.domain.CrewService;
import org.rootling.work.domain.LabourReport;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** Somebody comes for a day: a link on their phone is all they need, and all they get. */
@Import(WorkField.class)
class DayLinkBrowserTest extends BrowserTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    FieldLog log;

    @Autowired
    Planning planning;

    @Autowired
    CrewService crew;

    @Autowired
    LabourReport labour;

    private Page opened(BrowserContext phone, String link) {
        Page page = phone.newPage();
        page.navigate(link);
        page.click("main button");
        page.waitForURL("**/my-day");
        return page;
    }

    @Test
    void aLinkMakesAPhoneAHelpersUntilItEndsAndNothingThatWaitsIsLost() {
        TestVineyard vineyard = vineyards.fresh();
        TestVineyard other = vineyards.fresh();
        WorkField.Field field = fields.make(vineyard, 1, 25);
        UUID task = vineyard.inside(() ->
                tasks.create(new NewTask("WEED", field.row(1), null, null, fields.today(vineyard), List.of(), null)));
        UUID nell = vineyard.inside(() -> planning.addPerson(new Planning.NewPerson(
                null, "Nell", Collections.nCopies(7, BigDecimal.ZERO), List.of(), new BigDecimal("12.00"), "GBP")));
        String link;
        try (BrowserContext desk = context(1280)) {
            Page lead = signedIn(desk, vineyard, Role.LEAD);
            lead.navigate("/v/" + vineyard.slug() + "/work/people/" + nell);
            lead.fill("#days", "15");
            lead.click("#day-link form button");
            assertThat(lead.locator("#day-link .error")).containsText("14");
            lead.fill("#days", "1");
            lead.click("#day-link form button");
            link = lead.locator("#day-link code.secret").innerText();
            assertThat(lead.locator("#day-link svg.qr path")).hasCount(1);
            picture(lead, "day-link-lead-1280");
            lead.reload();
            assertThat(lead.locator("#day-link")).containsText("A link is open until");
            assertThat(lead.content()).doesNotContain(link.substring(link.lastIndexOf('/') + 1));
        }
        UUID account = vineyard.inside(() -> crew.person(nell).orElseThrow().account());
        try (BrowserContext first = context(390);
                BrowserContext second = context(390)) {
            Page page = first.newPage();
            page.navigate(link);
            assertThat(page.locator("main")).containsText("Nell");
            picture(page, "day-link-phone-390");
            page.click("main button");
            page.waitForURL("**/my-day");
            assertThat(page.locator("main")).containsText("B2 r1");
            for (String barred : new String[] {"/v/" + vineyard.slug() + "/work/people", "/account", "/vineyards"}) {
                assertThat(page.navigate(barred).status()).as(barred).isEqualTo(403);
            }
            assertThat(page.navigate("/v/" + vineyard.slug() + "/tokens").status())
                    .isEqualTo(403);
            assertThat(page.navigate("/v/" + other.slug() + "/my-day").status()).isEqualTo(404);

            page.navigate("/v/" + vineyard.slug() + "/my-day/" + task);
            page.fill("#places", "1-4");
            page.fill("#minutes", "30");
            page.click("#log button.wide");
            assertThat(page.locator(".notice")).containsText("Logged");
            FieldLog.Logged logged = vineyard.inside(() -> log.ofTask(task)).get(0);
            assertThat(logged.by()).isEqualTo(account);
            assertThat(vineyard.inside(() -> labour.lines(LabourReport.By.PERSON, logged.on(), logged.on())))
                    .singleElement()
                    .satisfies(line -> {
                        assertThat(line.label()).isEqualTo("Nell");
                        assertThat(line.costs().values())
                                .singleElement()
                                .satisfies(cost -> assertThat(cost).isEqualByComparingTo("6.00"));
                    });
            page.onceDialog(ask -> ask.accept());
            page.click("form[action$='/undo'] button");
            assertThat(page.locator("main")).containsText("taken back by Nell");

            // The link is one person's: the phone that opened it last is theirs.
            Page later = opened(second, link);
            page.navigate("/v/" + vineyard.slug() + "/my-day");
            assertThat(page.url()).contains("/sign-in");

            later.waitForSelector(
                    "#outbox[data-kept=true]",
                    new Page.WaitForSelectorOptions().setState(WaitForSelectorState.ATTACHED));
            until(later, "navigator.serviceWorker.controller !== null");
            later.navigate("/v/" + vineyard.slug() + "/my-day/" + task);
            second.setOffline(true);
            later.fill("#places", "5-9");
            later.click("#log button.wide");
            later.waitForSelector("#outbox:has-text('One log waits')");
            vineyard.run(() -> crew.endLink(nell));
            second.setOffline(false);
            later.waitForSelector("#outbox:has-text('Nothing is lost')");
            later.click("#outbox a");
            assertThat(later.locator("main")).containsText("Ask for a new one");
            Guests.Link again = vineyard.inside(() -> crew.dayLink(nell, 1));
            assertThat(again.account()).isEqualTo(account);
            later.navigate("/day/" + again.secret());
            later.click("main button");
            later.waitForURL("**/my-day");
            outboxEmpty(later);
            assertThat(vineyard.inside(() -> log.ofTask(task)).stream()
                            .filter(FieldLog.Logged::standing)
                            .map(l -> List.copyOf(l.places()))
                            .toList())
                    .containsExactly(List.of(5, 6, 7, 8, 9));
        }
    }

    /** A phone without a screen: it keeps its cookies and follows nothing by itself. */
    private final class Phone {
        private final HttpClient client =
                HttpClient.newBuilder().cookieHandler(new CookieManager()).build();

        HttpResponse<String> open(String path) throws Exception {
            return client.send(
                    HttpRequest.newBuilder(URI.create("http://localhost:" + port + path))
                            .build(),
                    HttpResponse.BodyHandlers.ofString());
        }

        HttpRequest button(String path) throws Exception {
            String token = Jsoup.parse(open(path).body())
                    .selectFirst("main input[name=_csrf]")
                    .val();
            return HttpRequest.newBuilder(URI.create("http://localhost:" + port + path))
                    .header("Content-Type", "application/x-www-form-urlencoded")
                    .POST(HttpRequest.BodyPublishers.ofString(
                            "_csrf=" + URLEncoder.encode(token, StandardCharsets.UTF_8)))
                    .build();
        }
    }

    @Test
    void ofTwoPhonesThatOpenALinkInTheSameMomentExactlyOneKeepsIt() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        fields.make(vineyard, 1, 25);
        UUID nell = vineyard.inside(() -> planning.addPerson(
                new Planning.NewPerson(null, "Nell", Collections.nCopies(7, BigDecimal.ZERO), List.of(), null, "GBP")));
        String link = "/day/" + vineyard.inside(() -> crew.dayLink(nell, 1)).secret();
        String day = "/v/" + vineyard.slug() + "/my-day";
        ExecutorService hands = Executors.newFixedThreadPool(2);
        try {
            for (int round = 0; round < 8; round++) {
                List<Phone> phones = List.of(new Phone(), new Phone());
                CyclicBarrier together = new CyclicBarrier(2);
                List<Future<Integer>> pressed = new ArrayList<>();
                for (Phone phone : phones) {
                    HttpRequest button = phone.button(link);
                    pressed.add(hands.submit(() -> {
                        together.await();
                        return phone.client
                                .send(button, HttpResponse.BodyHandlers.ofString())
                                .statusCode();
                    }));
                }
                for (Future<Integer> answer : pressed) {
                    assertThat(answer.get()).isIn(302, 303);
                }
                List<Integer> open = new ArrayList<>();
                for (int again = 0; again < 2; again++) {
                    open.clear();
                    for (Phone phone : phones) {
                        open.add(phone.open(day).statusCode());
                    }
                }
                assertThat(open).as("round " + round).containsExactlyInAnyOrder(200, 302);
            }
        } finally {
            hands.shutdown();
        }
    }
}
