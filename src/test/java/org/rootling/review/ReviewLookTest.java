package org.rootling.review;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** The pages of today, count and review as an adviser reads them on a phone and at a desk. */
@Import(ReviewField.class)
class ReviewLookTest extends BrowserTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    ReviewField field;

    @Test
    void a_reader_goes_from_today_to_the_dead_vines_and_why_at_both_widths() {
        TestVineyard vineyard = vineyards.fresh();
        ReviewField.Planted planted = field.planted(vineyard);
        field.measured(vineyard, planted);
        try (BrowserContext context = context(390)) {
            Page page = signedIn(context, vineyard, Role.READER);
            String home = "/v/" + vineyard.slug();
            page.navigate(home + "/");
            assertThat(text(page, "#far ~ .cards")).contains("120 of 120");
            look(page, "review-today");

            page.click("#far ~ .cards a:has-text('dead or missing')");
            assertThat(text(page, "h1")).isEqualTo("Places to replant");
            page.navigate(home + "/progress");
            assertThat(text(page, "h1")).isEqualTo("Count");
            look(page, "review-count");

            page.click("section[aria-labelledby=kinds] a[href*='state=dead'] >> nth=1");
            assertThat(text(page, "caption")).contains("These vines");
            assertThat(page.locator("main tbody tr").count()).isEqualTo(9);
            look(page, "review-vines");

            page.navigate(home + "/review");
            assertThat(text(page, "main")).contains(planted.good().code() + " (98% alive) does better than");
            look(page, "review-review");

            page.selectOption("#within", "B1");
            page.click("button:has-text('Where they fail')");
            assertThat(text(page, "main")).contains("11 of 120", "Questions to check");
            look(page, "review-clusters");

            page.navigate(home + "/review/numbers?by=lot");
            assertThat(text(page, "main")).contains("Standard error");
            look(page, "review-numbers");
            page.navigate(home + "/review?by=row&block=B1");
            assertThat(text(page, "main")).contains("row of one block: B1");
            look(page, "review-rows");
            page.navigate(home + "/review/heights?block=B1&wire=60");
            assertThat(text(page, "main")).contains("Will they reach 60 cm");
            look(page, "review-heights");
            for (String name : List.of("season", "sample?block=B1", "register", "replacing", "report")) {
                page.navigate(home + "/review/" + name);
                look(page, "review-" + name.replaceAll("\\?.*", ""));
            }
            page.navigate(home + "/find?q=bacchus");
            look(page, "review-find");
            page.navigate(home + "/help/progress");
            look(page, "review-help");
        }
    }

    /** Nothing sticks out to the side, at either width of the same page. */
    private static void look(Page page, String name) {
        for (int width : new int[] {1280, 390}) {
            page.setViewportSize(width, width < 600 ? 844 : 900);
            picture(page, name + "-" + width);
            int over = ((Number) page.evaluate(
                            "document.documentElement.scrollWidth - document.documentElement.clientWidth"))
                    .intValue();
            assertThat(over).as(name + " sticks out at " + width).isLessThanOrEqualTo(0);
        }
    }
}
