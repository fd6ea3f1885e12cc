package org.rootling.people.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** The index on the page "More" leads everybody to the pages that they may open, and to no other. */
@AppTest
class PageIndexTest {

    @Autowired
    TestVineyards vineyards;

    @Test
    void everyPageOfTheIndexOpensForWhoSeesItAndForNobodyElse() {
        TestVineyard vineyard = vineyards.fresh();
        for (Role role : Role.values()) {
            TestBrowser browser = vineyard.as(role);
            List<String> shown =
                    browser.open("/more").page().select("section.card li a").eachAttr("href");
            List<String> all = PageIndex.of(Role.OWNER).stream()
                    .flatMap(card -> card.pages().stream())
                    .map(PageIndex.Page::path)
                    .toList();
            for (String path : all) {
                boolean linked = shown.contains("/v/" + vineyard.slug() + path);
                int status = browser.open(path).status();
                assertThat(status).as(role + " " + path).isIn(linked ? List.of(200, 302) : List.of(403));
            }
        }
    }

    @Test
    void everyLinkHasWords() {
        TestVineyard vineyard = vineyards.fresh();
        var page = vineyard.as(Role.OWNER).open("/more").page();
        assertThat(page.select("section.card li a")).hasSizeGreaterThan(40);
        assertThat(page.select("section.card li a, section.card h3").eachText())
                .allSatisfy(text -> assertThat(text).isNotBlank().doesNotContain("??"));
    }
}
