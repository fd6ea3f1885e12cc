package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.Duration;
import java.time.Instant;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.domain.GuestService;
import org.rootling.people.domain.PeopleService;
import org.rootling.people.domain.Secrets;
import org.rootling.people.domain.SignInThrottle;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.security.core.userdetails.UserDetailsService;
import org.springframework.security.core.userdetails.UsernameNotFoundException;

/** Somebody comes for a day and has a link instead of an account. */
@AppTest
class GuestsTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    GuestService guests;

    @Autowired
    PeopleService people;

    @Autowired
    Members members;

    @Autowired
    UserDetailsService passwords;

    @Autowired
    SignInThrottle throttle;

    private TestVineyard vineyard;

    @BeforeEach
    void aVineyard() {
        vineyard = vineyards.fresh();
    }

    private Guests.Link link() {
        return vineyard.inside(() -> guests.link(null, "Nell", 1));
    }

    @Test
    void aLinkIsStoredOnlyAsAHashAndEndsAtMidnightOfItsLastDay() throws SQLException {
        Guests.Link link = vineyard.inside(() -> guests.link(null, "Nell", 2));

        assertThat(link.until())
                .isBetween(
                        Instant.now().plus(Duration.ofHours(22)), Instant.now().plus(Duration.ofHours(50)));
        assertThat(link.until().atZone(java.time.ZoneId.of("Europe/London")).getHour())
                .isZero();
        assertThat(text("select token_hash from membership where account_id = ?", link.account()))
                .isEqualTo(Secrets.hash(link.secret()));
        assertThat(text("select to_jsonb(m)::text from membership m where account_id = ?", link.account()))
                .doesNotContain(link.secret());
        assertThat(text(
                        "select string_agg(coalesce(after::text, ''), ' ') from audit_entry where vineyard_id = ?",
                        vineyard.id()))
                .contains(link.account().toString())
                .doesNotContain(Secrets.hash(link.secret()));
        assertThat(guests.open(link.secret()).orElseThrow().slug()).isEqualTo(vineyard.slug());
        for (int days : new int[] {0, -1, Guests.MOST_DAYS + 1}) {
            assertThatThrownBy(() -> vineyard.inside(() -> guests.link(null, "Nell", days)))
                    .isInstanceOf(Refused.class);
        }
    }

    @Test
    void whoseTimeIsOverIsNoMemberAnyMoreAndKeepsTheName() throws SQLException {
        Guests.Link link = link();
        assertThat(people.seat(vineyard.slug(), link.account()).orElseThrow().role())
                .isEqualTo(Role.HELPER);
        assertThat(vineyard.inside(members::list)).extracting(Member::name).contains("Nell");

        change("update membership set guest_until = now() - interval '1 second' where account_id = ?", link.account());

        assertThat(guests.open(link.secret())).isEmpty();
        assertThat(people.seat(vineyard.slug(), link.account())).isEmpty();
        assertThat(people.belongings(link.account())).isEmpty();
        assertThat(vineyard.inside(members::list)).extracting(Member::name).doesNotContain("Nell");
        assertThat(vineyard.inside(members::names)).containsEntry(link.account(), "Nell");
    }

    @Test
    void anEndedOrReplacedLinkOpensNothing() {
        Guests.Link first = link();
        Guests.Link second = vineyard.inside(() -> guests.link(first.account(), "Nell Ferry", 3));
        assertThat(second.account()).isEqualTo(first.account());
        assertThat(guests.open(first.secret())).isEmpty();
        assertThat(guests.open(second.secret()).orElseThrow().person().name()).isEqualTo("Nell Ferry");

        vineyard.run(() -> guests.end(first.account()));

        assertThat(guests.open(second.secret())).isEmpty();
        assertThat(people.seat(vineyard.slug(), first.account())).isEmpty();
        assertThat(vineyard.inside(guests::until).get(first.account())).isBeforeOrEqualTo(Instant.now());
    }

    @Test
    void aGuestIsHelperAndHasNoOtherWayIn() {
        Guests.Link link = link();
        assertThatThrownBy(() -> vineyard.run(() -> people.changeRole(link.account(), Role.OWNER)))
                .isInstanceOf(NotFound.class);
        assertThatThrownBy(() -> change("update membership set role = 'OWNER' where account_id = ?", link.account()))
                .isInstanceOf(SQLException.class);
        assertThatThrownBy(() -> passwords.loadUserByUsername(link.account() + "@guest.invalid"))
                .isInstanceOf(UsernameNotFoundException.class);
    }

    @Test
    void anotherVineyardNeitherRenewsNorEndsNorSeesAGuest() {
        Guests.Link link = link();
        TestVineyard other = vineyards.fresh();
        assertThatThrownBy(() -> other.inside(() -> guests.link(link.account(), "Mine now", 1)))
                .isInstanceOf(NotFound.class);
        other.run(() -> guests.end(link.account()));
        assertThat(other.inside(guests::until)).isEmpty();
        assertThat(guests.open(link.secret()).orElseThrow().person().name()).isEqualTo("Nell");
        assertThat(people.seat(other.slug(), link.account())).isEmpty();
    }

    @Test
    void aGuestIsForgottenWithTheVineyard() throws SQLException {
        Guests.Link link = link();
        Guests.Link stays = vineyards.fresh().inside(() -> guests.link(null, "Stays", 1));
        change("select rootling_delete_vineyard(?)", vineyard.id());
        assertThat(text("select count(*) from account where id = ?", link.account()))
                .isEqualTo("0");
        assertThat(text("select count(*) from account where id = ?", stays.account()))
                .isEqualTo("1");
    }

    @Test
    void aLinkThatIsNotOpenSaysSoAndTryingOnIsSlowed() throws Exception {
        String wrong = Secrets.next();
        for (int i = 0; i < 6; i++) {
            String page = vineyard.mvc()
                    .perform((i % 2 == 0
                                    ? get("/day/" + wrong)
                                    : post("/day/" + wrong).with(csrf()))
                            .with(request -> {
                                request.setRemoteAddr("198.51.100.71");
                                return request;
                            }))
                    .andReturn()
                    .getResponse()
                    .getContentAsString();
            assertThat(page).contains("Ask for a new one").doesNotContain("Start on this phone");
        }
        assertThat(throttle.allows("day " + wrong, "203.0.113.9")).isFalse();
        assertThat(throttle.allows("day " + Secrets.next(), "198.51.100.71")).isTrue();
    }

    private static void change(String sql, UUID id) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                PreparedStatement statement = owner.prepareStatement(sql)) {
            statement.setObject(1, id);
            statement.execute();
        }
    }

    private static String text(String sql, UUID id) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                PreparedStatement statement = owner.prepareStatement(sql)) {
            statement.setObject(1, id);
            try (ResultSet row = statement.executeQuery()) {
                assertThat(row.next()).isTrue();
                return String.valueOf(row.getString(1));
            }
        }
    }
}
