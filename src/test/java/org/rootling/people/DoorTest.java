package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

@AppTest
class DoorTest {

    @Autowired
    TestVineyards vineyards;

    @Test
    void ownerSeesPeopleAndInvitesWithALinkShownOnce() {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        assertThat(owner.open("/people").page().text()).contains("Hana Helper");
        TestBrowser.Answer made = owner.send("/people/invitations", "role", "HELPER", "days", "7", "note", "Sat");
        assertThat(made.status()).isEqualTo(302);
    }

    @Test
    void helperMayNotSeePeople() {
        TestVineyard vineyard = vineyards.fresh();
        assertThat(vineyard.as(Role.HELPER).open("/people").status()).isEqualTo(403);
    }
}
