package org.rootling.nursery.web;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** A bed is drawn where it lies. */
@AppTest
class StoreOnPlanTest {

    @Autowired
    TestVineyards vineyards;

    TestVineyard vineyard;
    TestBrowser lead;

    @BeforeEach
    void makeABlock() {
        vineyard = vineyards.fresh();
        lead = vineyard.as(Role.LEAD);
        lead.sendAndFollow("/blocks", "code", "B2", "name", "Long Slip", "boundary", "0 0\n30 0\n30 40\n0 40");
    }

    private String block() {
        return lead.open("/stores/new")
                .page()
                .select("select[name=blockId] option")
                .last()
                .val();
    }

    @Test
    void aBedStandsOnThePlanOfItsBlockAndLeadsToItsPage() {
        var kept = lead.send(
                "/stores/new",
                "name",
                "Bed <by> the barn",
                "kind",
                "HEELED_IN",
                "soil",
                "loam",
                "blockId",
                block(),
                "eastM",
                "4,5",
                "northM",
                "10");
        assertThat(kept.status()).as(kept.page().select(".error").text()).isBetween(302, 303);
        var plan = lead.open("/blocks/B2").page();
        assertThat(plan.select("svg.plan .pin")).hasSize(1);
        assertThat(plan.select("svg.plan a:has(.pin) text").text()).isEqualTo("Bed <by> the barn");
        assertThat(plan.select("svg.plan a:has(.pin) tspan").eachText())
                .as("under the house, not across the rows")
                .containsExactly("Bed <by>", "the barn");
        assertThat(plan.select(".plan-legend").text()).contains("Bed or store");
        String store = plan.select("svg.plan a:has(.pin)").attr("href").replaceFirst("^/v/[^/]+", "");
        var page = lead.open(store).page();
        assertThat(page.select("a[href$='/blocks/B2']").text()).contains("Long Slip");
        assertThat(page.text()).contains("loam");
        // Far off, it stands at the edge of the drawing instead of beyond it.
        lead.sendAndFollow(
                store + "/change",
                "name",
                "Cold store",
                "kind",
                "COLD_STORE",
                "blockId",
                block(),
                "eastM",
                "900",
                "northM",
                "-50",
                "version",
                "0");
        var far = lead.open("/blocks/B2").page();
        String[] box = far.select("svg.plan").attr("viewBox").split(" ");
        double x = Double.parseDouble(far.select("svg.plan .pin").attr("d").replaceFirst("M([-0-9.]+) .*", "$1"));
        assertThat(x).isBetween(0.0, Double.parseDouble(box[2]));
        // On no plan again.
        lead.sendAndFollow(store + "/change", "name", "Cold store", "kind", "COLD_STORE", "version", "1");
        assertThat(lead.open("/blocks/B2").page().select(".pin")).isEmpty();
    }

    @Test
    void halfAPlaceIsRefused() {
        String block = block();
        String[][] wrong = {
            {"blockId", block, "eastM", "5"},
            {"blockId", block},
            {"eastM", "5", "northM", "5"},
            {"blockId", block, "eastM", "abc", "northM", "5"},
            {"blockId", block, "eastM", "99999", "northM", "5"}
        };
        for (String[] more : wrong) {
            String[] fields = new String[4 + more.length];
            System.arraycopy(new String[] {"name", "Bed", "kind", "HEELED_IN"}, 0, fields, 0, 4);
            System.arraycopy(more, 0, fields, 4, more.length);
            var refused = lead.send("/stores/new", fields);
            assertThat(refused.status()).isEqualTo(200);
            assertThat(refused.page().select(".field.wrong .error").text()).isNotBlank();
        }
        TestVineyard other = vineyards.fresh();
        assertThat(other.as(Role.LEAD)
                        .send(
                                "/stores/new",
                                "name",
                                "Bed",
                                "kind",
                                "HEELED_IN",
                                "blockId",
                                block,
                                "eastM",
                                "5",
                                "northM",
                                "5")
                        .status())
                .isIn(200, 404);
        assertThat(lead.open("/stores").page().select("main table")).isEmpty();
    }
}
