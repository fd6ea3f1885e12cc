package org.rootling.review;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
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
        for (int width : new int[] {390, 1280}) {
            TestVineyard vineyard = vineyards.fresh();
            ReviewField.Planted planted = field.planted(vineyard);
            try (BrowserContext context = context(width)) {
                Page page = signedIn(context, vineyard, Role.READER);
                String home = "/v/" + vineyard.slug();
                page.navigate(home + "/");
                assertThat(text(page, "#far ~ .cards")).contains("120 of 120");
                look(page, "review-today-" + width);

                page.click("#far ~ .cards a:has-text('dead or missing')");
                assertThat(text(page, "h1")).isEqualTo("Count");
                look(page, "review-count-" + width);

                page.click("section[aria-labelledby=kinds] a[href*='state=dead'] >> nth=1");
                assertThat(text(page, "caption")).contains("Vines 1 to 9");
                look(page, "review-vines-" + width);

                page.navigate(home + "/review");
                assertThat(text(page, "main")).contains(planted.good().code() + " (98% alive) does better than");
                look(page, "review-review-" + width);

                page.selectOption("#within", "B1");
                page.click("button:has-text('Where they fail')");
                assertThat(text(page, "main")).contains("11 of 120", "Questions to check");
                look(page, "review-clusters-" + width);

                page.navigate(home + "/review/numbers?by=lot");
                assertThat(text(page, "main")).contains("Standard error");
                look(page, "review-numbers-" + width);
                page.navigate(home + "/review?by=row&block=B1");
                assertThat(text(page, "main")).contains("row of one block: B1");
                look(page, "review-rows-" + width);
                page.navigate(home + "/review/season");
                look(page, "review-season-" + width);
                field.measured(vineyard, planted);
                page.navigate(home + "/review/heights?block=B1&wire=60");
                assertThat(text(page, "main")).contains("Will they reach 60 cm");
                look(page, "review-heights-" + width);
                page.navigate(home + "/review/sample?block=B1");
                look(page, "review-sample-" + width);
                page.navigate(home + "/review/register");
                look(page, "review-register-" + width);
                page.navigate(home + "/review/replacing");
                look(page, "review-replacing-" + width);
                page.navigate(home + "/review/report");
                look(page, "review-report-" + width);
                page.navigate(home + "/find?q=bacchus");
                look(page, "review-find-" + width);
                page.navigate(home + "/help/progress");
                look(page, "review-help-" + width);
            }
        }
    }

    /** Nothing sticks out to the side, at either width. */
    private static void look(Page page, String name) {
        picture(page, name);
        int over = ((Number)
                        page.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))
                .intValue();
        assertThat(over).as(name + " sticks out").isLessThanOrEqualTo(0);
    }
}
