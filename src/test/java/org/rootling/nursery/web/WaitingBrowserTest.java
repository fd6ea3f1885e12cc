package org.rootling.nursery.web;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.Stock.NewStore;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.TestStock;
import org.rootling.nursery.domain.WarningDesk;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** The nursery's pages in Chromium: a helper on a phone waters and lifts; a lead at the desk looks at everything. */
class WaitingBrowserTest extends BrowserTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    @Autowired
    WarningDesk desk;

    @Autowired
    Vineyards days;

    @Test
    void aHelperWatersAndLiftsOnAPhoneAndTheDeskSeesIt() {
        TestVineyard vineyard = vineyards.fresh();
        LocalDate today = vineyard.inside(() -> days.today());
        Lot[] lot = new Lot[2];
        vineyard.run(() -> {
            lot[0] = TestStock.lot(stock, "Bacchus", "SO4", 307, today.minusDays(35));
            lot[1] = TestStock.lot(stock, "Pinot noir", "3309 Couderc", 150, today.minusDays(1));
            UUID bed = stock.addStore(
                    new NewStore("Bed by the barn", StoreKind.HEELED_IN, 400, null, "loam", "north side", null, null));
            UUID cold = stock.addStore(
                    new NewStore("Cold store in the village", StoreKind.COLD_STORE, null, 1.5, null, null, null, null));
            stock.place(lot[0].id(), bed, 200, today.minusDays(20));
            stock.place(lot[0].id(), cold, 100, today.minusDays(30));
            stock.water(bed, today.minusDays(3), 12.0);
            desk.look();
        });
        try (var phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.HELPER);
            page.navigate("/v/" + vineyard.slug() + "/lots");
            picture(page, "waiting-phone");
            page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Watered today"))
                    .first()
                    .click();
            page.waitForURL("**/lots");
            page.getByRole(AriaRole.LINK, new Page.GetByRoleOptions().setName("Lift"))
                    .first()
                    .click();
            page.getByLabel("How many vines").fill("500");
            page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Lift"))
                    .click();
            assertThat(text(page, "main")).contains("500 are more than there are");
            picture(page, "lift-refused-phone");
            page.getByLabel("How many vines").fill("40");
            page.getByRole(AriaRole.BUTTON, new Page.GetByRoleOptions().setName("Lift"))
                    .click();
            page.waitForURL("**/lots/" + lot[0].code());
            assertThat(text(page, "main")).contains("40 are lifted");
            assertThat(loaded(page).evaluate("document.documentElement.scrollWidth <= 390"))
                    .isEqualTo(true);
            picture(page, "lot-phone");
        }
        try (var wide = context(1280)) {
            Page page = signedIn(wide, vineyard, Role.LEAD);
            for (String path : List.of(
                    "lots",
                    "lots/" + lot[0].code(),
                    "lots/" + lot[0].code() + "/do/move",
                    "deliveries/new",
                    "orders/new",
                    "orders",
                    "stores",
                    "stores/new",
                    "store-limits",
                    "vine-lists",
                    "nurseries",
                    "help/nursery")) {
                page.navigate("/v/" + vineyard.slug() + "/" + path);
                picture(page, "desk-" + path.replace('/', '-'));
                assertThat(loaded(page).locator("h1").count()).as(path).isEqualTo(1);
            }
        }
        try (var phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.LEAD);
            for (String path :
                    List.of("lots", "deliveries/new", "orders/new", "stores", "store-limits", "vine-lists")) {
                page.navigate("/v/" + vineyard.slug() + "/" + path);
                assertThat(loaded(page).evaluate("document.documentElement.scrollWidth <= 390"))
                        .as(path)
                        .isEqualTo(true);
                picture(page, "phone-" + path.replace('/', '-'));
            }
        }
        assertThat(vineyard.inside(() -> lots.byId(lot[0].id()).orElseThrow()).lifted())
                .isEqualTo(40);
    }
}
