package org.rootling.support;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.EnumMap;
import java.util.Map;
import java.util.UUID;
import org.rootling.people.Role;
import org.rootling.people.domain.PeopleService;
import org.rootling.people.domain.TestPeople;
import org.rootling.platform.Tenancy;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.context.annotation.Lazy;
import org.springframework.security.crypto.password.PasswordEncoder;
import org.springframework.test.web.servlet.MockMvc;

/** Makes vineyards for tests: each with four people, one of each role. */
@TestComponent
public class TestVineyards {

    /** The password of every test person. */
    public static final String PASSWORD = "quiet rows in spring";

    private final PeopleService people;
    private final ObjectProvider<MockMvc> mvc;
    private final String hash;

    TestVineyards(PeopleService people, @Lazy ObjectProvider<MockMvc> mvc, PasswordEncoder encoder) {
        this.people = people;
        this.mvc = mvc;
        this.hash = encoder.encode(PASSWORD);
    }

    /** A new vineyard in the zone Europe/London with an owner, a lead, a helper and a reader. */
    public TestVineyard fresh() {
        return fresh("Europe/London");
    }

    /** The same in another zone. */
    public TestVineyard fresh(String zone) {
        UUID vineyard = UUID.randomUUID();
        String slug = "test-" + vineyard.toString().substring(0, 12);
        Map<Role, UUID> accounts = new EnumMap<>(Role.class);
        try (Connection owner = TestDatabase.asOwner()) {
            run(
                    owner,
                    "insert into vineyard (id, slug, name, zone, latitude, longitude, altitude_m) values (?, ?, ?, ?, 50.8, 0.1, 60)",
                    vineyard,
                    slug,
                    "Test " + slug,
                    zone);
            for (Role role : Role.values()) {
                UUID account = UUID.randomUUID();
                accounts.put(role, account);
                run(
                        owner,
                        "insert into account (id, email, name, password_hash) values (?, ?, ?, ?)",
                        account,
                        email(slug, role),
                        name(role),
                        hash);
                run(
                        owner,
                        "insert into membership (vineyard_id, id, account_id, role) values (?, ?, ?, ?)",
                        vineyard,
                        UUID.randomUUID(),
                        account,
                        role.name());
            }
        } catch (SQLException failure) {
            throw new IllegalStateException(failure);
        }
        Map<Role, String> tokens = new EnumMap<>(Role.class);
        accounts.forEach((role, account) ->
                Tenancy.run(vineyard, account, () -> tokens.put(role, people.makeToken("test", role, account, role))));
        return new TestVineyard(vineyard, slug, accounts, tokens, mvc.getIfAvailable());
    }

    static String email(String slug, Role role) {
        return role.name().toLowerCase(java.util.Locale.ROOT) + "@" + slug + ".example";
    }

    static String name(Role role) {
        return switch (role) {
            case OWNER -> "Ada Owner";
            case LEAD -> "Lew Lead";
            case HELPER -> "Hana Helper";
            case READER -> "Rudi Reader";
        };
    }

    private static void run(Connection connection, String sql, Object... values) throws SQLException {
        try (PreparedStatement statement = connection.prepareStatement(sql)) {
            for (int i = 0; i < values.length; i++) {
                statement.setObject(i + 1, values[i]);
            }
            statement.executeUpdate();
        }
    }

    static Object principal(UUID account, String slug, Role role) {
        return TestPeople.signedIn(account, email(slug, role), name(role));
    }
}
