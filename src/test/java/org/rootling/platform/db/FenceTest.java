package org.rootling.platform.db;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Row-level security is the second fence: it holds without the application's own checks, and fails closed. */
@AppTest
class FenceTest {

    /** Tables that belong to no vineyard, with the reason. */
    private static final Set<String> OUTSIDE = Set.of(
            "flyway_schema_history", // the schema's own history
            "spring_session", // before a vineyard is chosen
            "spring_session_attributes",
            "event_publication", // carries the vineyard inside the event
            "sign_in_throttle", // before anyone is known
            "backup_made"); // of the whole database

    /**
     * Fenced by policies of their own: an account and its second factor are of a person, a vineyard is itself, ways in are
     * nobody's to read.
     */
    private static final Set<String> OWN_POLICY =
            Set.of("account", "vineyard", "second_factor", "recovery_code", "way_in");

    @Autowired
    TestVineyards vineyards;

    @Test
    void everyTableIsFencedOrSaysWhyNot() throws SQLException {
        List<String> open = new ArrayList<>();
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement();
                ResultSet tables = statement.executeQuery("""
                        select c.relname, c.relrowsecurity,
                               exists (select 1 from information_schema.columns i
                                        where i.table_name = c.relname and i.column_name = 'vineyard_id' and i.is_nullable = 'NO')
                          from pg_class c join pg_namespace n on n.oid = c.relnamespace
                         where n.nspname = 'public' and c.relkind in ('r', 'p') order by 1""")) {
            while (tables.next()) {
                String name = tables.getString(1);
                boolean fenced = tables.getBoolean(2) && (tables.getBoolean(3) || OWN_POLICY.contains(name));
                if (!fenced && !OUTSIDE.contains(name)) {
                    open.add(name);
                }
            }
        }
        assertThat(open).isEmpty();
    }

    @Test
    void aConnectionThatWasToldNothingSeesNothing() throws SQLException {
        vineyards.fresh();
        try (Connection app = TestDatabase.asApp();
                Statement statement = app.createStatement()) {
            for (String table : fencedTables()) {
                try (ResultSet rows = statement.executeQuery("select count(*) from " + table)) {
                    rows.next();
                    assertThat(rows.getInt(1)).as(table).isZero();
                }
            }
        }
    }

    @Test
    void aVineyardCannotReadChangeOrAddToAnother() throws SQLException {
        TestVineyard one = vineyards.fresh();
        TestVineyard other = vineyards.fresh();
        try (Connection app = TestDatabase.asApp();
                Statement statement = app.createStatement()) {
            statement.execute("select set_config('rootling.vineyard', '" + one.id() + "', false), "
                    + "set_config('rootling.account', '" + one.account(Role.OWNER) + "', false)");
            assertThat(count(statement, "select count(*) from membership")).isEqualTo(4);
            assertThat(count(statement, "select count(*) from account")).isEqualTo(4);
            assertThat(count(statement, "select count(*) from vineyard")).isEqualTo(1);
            assertThat(statement.executeUpdate(
                            "update membership set role = 'OWNER' where vineyard_id = '" + other.id() + "'"))
                    .isZero();
            assertThatThrownBy(() -> statement.executeUpdate(
                            "insert into membership (vineyard_id, id, account_id, role) values ('" + other.id()
                                    + "', gen_random_uuid(), '" + one.account(Role.OWNER) + "', 'OWNER')"))
                    .isInstanceOf(SQLException.class)
                    .hasMessageContaining("row-level security");
        }
    }

    @Test
    void theApplicationCannotForgeOrEraseTheAuditTrail() throws SQLException {
        TestVineyard vineyard = vineyards.fresh();
        try (Connection app = TestDatabase.asApp();
                Statement statement = app.createStatement()) {
            statement.execute("select set_config('rootling.vineyard', '" + vineyard.id() + "', false)");
            assertThat(count(statement, "select count(*) from audit_entry")).isPositive();
            for (String forbidden : new String[] {
                "delete from audit_entry",
                "update audit_entry set action = 'added'",
                "alter table audit_entry disable row level security",
                "drop table membership",
                "alter table membership disable trigger audit"
            }) {
                assertThatThrownBy(() -> statement.execute(forbidden))
                        .as(forbidden)
                        .isInstanceOf(SQLException.class);
            }
        }
    }

    @Test
    void secretsAreNotInTheAuditTrail() throws SQLException {
        vineyards.fresh();
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement()) {
            assertThat(count(statement, "select count(*) from audit_entry where after::text like '%token_hash%'"))
                    .isZero();
        }
    }

    private static List<String> fencedTables() throws SQLException {
        List<String> names = new ArrayList<>();
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement();
                ResultSet tables = statement.executeQuery(
                        "select relname from pg_class where relrowsecurity and relkind = 'r' order by 1")) {
            while (tables.next()) {
                names.add(tables.getString(1));
            }
        }
        return names;
    }

    private static int count(Statement statement, String sql) throws SQLException {
        try (ResultSet rows = statement.executeQuery(sql)) {
            rows.next();
            return rows.getInt(1);
        }
    }
}
