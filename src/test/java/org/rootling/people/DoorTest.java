package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.ArrayList;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.Test;
import org.rootling.people.domain.PeopleService;
import org.rootling.platform.Refused;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** People come in by invitation, belong to vineyards, and hold tokens. */
@AppTest
class DoorTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    PeopleService people;

    @Autowired
    MockMvc mvc;

    @Test
    void anInvitationLinkIsShownOnceAndStoredOnlyAsAHash() throws SQLException {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        TestBrowser.Answer made = owner.send("/people/invitations", "role", "HELPER", "days", "7", "note", "for Sat");
        assertThat(made.status()).isEqualTo(302);
        String link = (String) made.raw().getFlashMap().get("link");
        String secret = link.replaceAll(".*/join/", "");
        assertThat(secret).hasSizeGreaterThan(40);
        assertThat(owner.open("/people").page().text()).contains("for Sat").doesNotContain(secret);
        try (Connection db = TestDatabase.asOwner();
                Statement statement = db.createStatement();
                ResultSet rows =
                        statement.executeQuery("select count(*) from invitation where token_hash = '" + secret + "'")) {
            rows.next();
            assertThat(rows.getInt(1)).isZero();
        }
    }

    @Test
    void anInvitationIsUsedOnceEvenByTwoAtTheSameMoment() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String secret = vineyard.inside(
                () -> people.invite(Role.HELPER, Duration.ofDays(3), null, vineyard.account(Role.OWNER)));
        ExecutorService two = Executors.newFixedThreadPool(2);
        try {
            List<Callable<Boolean>> tries = new ArrayList<>();
            for (int i = 0; i < 2; i++) {
                String email = "twin" + i + "@" + vineyard.slug() + ".example";
                tries.add(() -> {
                    try {
                        people.acceptAsNew(secret, email, "Twin", "a long enough password");
                        return true;
                    } catch (Refused late) {
                        return false;
                    }
                });
            }
            int joined = 0;
            for (Future<Boolean> one : two.invokeAll(tries)) {
                joined += one.get() ? 1 : 0;
            }
            assertThat(joined).isEqualTo(1);
        } finally {
            two.shutdown();
        }
    }

    @Test
    void aUsedOrUnknownInvitationSaysSo() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String secret = vineyard.inside(
                () -> people.invite(Role.READER, Duration.ofDays(3), null, vineyard.account(Role.OWNER)));
        people.acceptAsNew(secret, "new@" + vineyard.slug() + ".example", "Newt", "a long enough password");
        for (String tried : new String[] {secret, "never-made"}) {
            String page =
                    mvc.perform(get("/join/" + tried)).andReturn().getResponse().getContentAsString();
            assertThat(Jsoup.parse(page).select(".alert.danger").text()).contains("already used");
            assertThat(Jsoup.parse(page).select("main form")).isEmpty();
        }
        var late = mvc.perform(post("/join/" + secret)
                        .with(csrf())
                        .param("name", "Late")
                        .param("email", "late@" + vineyard.slug() + ".example")
                        .param("password", "a long enough password"))
                .andReturn()
                .getResponse();
        assertThat(late.getStatus()).isEqualTo(200);
        assertThat(Jsoup.parse(late.getContentAsString())
                        .select(".alert.danger")
                        .text())
                .contains("already used");
    }

    @Test
    void onePersonBelongsToSeveralVineyardsAndSwitches() {
        TestVineyard one = vineyards.fresh();
        TestVineyard other = vineyards.fresh();
        String secret =
                other.inside(() -> people.invite(Role.READER, Duration.ofDays(1), null, other.account(Role.OWNER)));
        people.acceptAsKnown(secret, one.account(Role.OWNER));
        assertThat(people.belongings(one.account(Role.OWNER)))
                .extracting(PeopleService.Belonging::slug)
                .containsExactlyInAnyOrder(one.slug(), other.slug());
        assertThat(people.seat(other.slug(), one.account(Role.OWNER))
                        .orElseThrow()
                        .role())
                .isEqualTo(Role.READER);
    }

    @Test
    void theLastOwnerStaysOwner() {
        TestVineyard vineyard = vineyards.fresh();
        String owner = vineyard.account(Role.OWNER).toString();
        TestBrowser.Answer answer = vineyard.as(Role.OWNER).send("/people/" + owner + "/role", "role", "READER");
        assertThat(answer.status()).isEqualTo(422);
        assertThat(answer.page().text()).contains("needs an owner");
        vineyard.as(Role.OWNER).sendAndFollow("/people/" + vineyard.account(Role.LEAD) + "/role", "role", "OWNER");
        assertThat(vineyard.as(Role.OWNER).send("/people/" + owner + "/end").status())
                .isEqualTo(302);
        assertThat(vineyard.as(Role.OWNER).open("/people").status()).isEqualTo(404);
    }

    @Test
    void aTokenIsNeverStrongerThanItsMakerAndEndsWithTheMembership() {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser helper = vineyard.as(Role.HELPER);
        assertThat(helper.send("/tokens", "name", "x", "role", "OWNER")
                        .page()
                        .select(".error")
                        .text())
                .contains("more than your own role");
        TestBrowser.Answer made = helper.send("/tokens", "name", "my script", "role", "READER");
        String secret = (String) made.raw().getFlashMap().get("secret");
        assertThat(secret).startsWith("rtl_");
        assertThat(helper.open("/tokens").page().text()).contains("my script").doesNotContain(secret);
        assertThat(TestApi.get(vineyard, Role.HELPER, "/api/v1/nothing-here").status())
                .isEqualTo(404);
        vineyard.run(() -> people.endMembership(vineyard.account(Role.HELPER)));
        assertThat(TestApi.get(vineyard, Role.HELPER, "/api/v1/nothing-here").status())
                .isEqualTo(401);
    }

    @Test
    void theSameFormSentTwiceIsTakenOnce() {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        String once = owner.open("/people").page().select("form [name=once]").val();
        assertThat(once).hasSize(36);
        String[] form = {"role", "READER", "days", "5", "note", "only one", "once", once};
        assertThat(owner.send("/people/invitations", form).status()).isEqualTo(302);
        assertThat(owner.send("/people/invitations", form).page().text()).contains("not taken a second time");
        assertThat(owner.open("/people").page().text().split("only one", -1)).hasSize(2);
    }

    @Test
    void aRefusedFormLeavesNoReceiptAndCanBeSentAgain() {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        String once = owner.open("/people").page().select("form [name=once]").val();
        assertThat(owner.send("/people/invitations", "role", "READER", "days", "400", "once", once)
                        .page()
                        .select(".error"))
                .isNotEmpty();
        assertThat(owner.send("/people/invitations", "role", "READER", "days", "4", "once", once)
                        .status())
                .isEqualTo(302);
    }

    @Test
    void aStaleEditOfTheVineyardIsRefusedAndNothingOfItStored() {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        String[] first = {
            "name", "First", "zone", "Europe/Paris", "latitude", "44,5", "longitude", "-0.6", "version", "0"
        };
        owner.sendAndFollow("/settings", first);
        String[] stale = {"name", "Second", "zone", "Europe/Paris", "version", "0"};
        TestBrowser.Answer refused = owner.send("/settings", stale);
        assertThat(refused.status()).isEqualTo(409);
        assertThat(refused.page().select("main").text()).contains("Second").contains("Europe/Paris");
        assertThat(owner.open("/settings").page().select("#name").val()).isEqualTo("First");
        assertThat(owner.open("/settings").page().select("#latitude").val()).isEqualTo("44.5");
    }

    @Test
    void hostileTextIsShownAsTextAndAbsurdValuesAreRefusedAtTheirField() {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        String hostile = "<script>alert(1)</script>'; drop table membership; --";
        TestBrowser.Answer answer =
                owner.sendAndFollow("/settings", "name", hostile, "zone", "Europe/Paris", "version", "0");
        assertThat(answer.page().select("#name").val()).isEqualTo(hostile);
        assertThat(answer.body()).doesNotContain("<script>alert(1)");
        for (String absurd : new String[] {"1e999999999", "91", "north", "NaN", "-Infinity"}) {
            assertThat(owner.send("/settings", "name", "N", "zone", "Europe/Paris", "latitude", absurd, "version", "1")
                            .page()
                            .select("#latitude-error"))
                    .as(absurd)
                    .isNotEmpty();
        }
        assertThat(owner.send("/settings", "name", "x".repeat(1_000_000), "zone", "Europe/Paris", "version", "1")
                        .page()
                        .select("#name-error"))
                .isNotEmpty();
        assertThat(owner.send("/settings", "name", "N", "zone", "Mars/Base", "version", "1")
                        .page()
                        .select("#zone-error"))
                .isNotEmpty();
    }

    @Test
    void whoChangedWhatIsKeptAndShown() {
        TestVineyard vineyard = vineyards.fresh();
        vineyard.as(Role.OWNER).send("/people/" + vineyard.account(Role.HELPER) + "/role", "role", "LEAD");
        String history = vineyard.as(Role.LEAD).open("/history").page().text();
        assertThat(history)
                .contains("Ada Owner")
                .contains("membership: changed")
                .contains("role helper lead");
    }
}
