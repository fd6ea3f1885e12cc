package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.Test;
import org.rootling.exchange.TestArchive;
import org.rootling.people.Role;
import org.rootling.people.domain.Deletions;
import org.rootling.platform.VineyardTime;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.config.AutowireCapableBeanFactory;
import org.springframework.jdbc.core.simple.JdbcClient;

/** A whole vineyard goes into an archive and comes out of it in another one, equal to the last row. */
@AppTest
class ArchiveRoundTripTest {

    /** Not compared, each for its reason. */
    private static final Set<String> OWN = Set.of(
            "membership", // the new vineyard's own
            "api_token",
            "invitation",
            "calendar_feed", // ways in
            "digest_mail", // unsent mails
            "form_receipt",
            "weather_fetch",
            "weather_mark",
            "daily_run",
            "archive_restore",
            "archive_part",
            "background_job",
            "background_file",
            "restoring",
            "deleting"); // what the program keeps for itself

    @Autowired
    TestVineyards vineyards;

    @Autowired
    AutowireCapableBeanFactory beans;

    @Autowired
    VineyardTime time;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    Deletions deletions;

    @Test
    void everyTableComesBackEqualToTheLastRow() throws SQLException {
        TestVineyard from = vineyards.fresh("Europe/Berlin");
        seed(from);
        TestVineyard into = vineyards.fresh("America/New_York");
        // One person of the archive is a member of the new vineyard too; the others become names.
        shareLead(from, into);

        Document page = TestArchive.putBack(into, TestArchive.of(from));

        assertThat(page.select("main").text()).contains("Put back");
        Map<String, String> people = people(from, into);
        Map<String, Integer> compared = new TreeMap<>();
        for (String table : tables()) {
            List<String> was = rows(from.id(), table, people);
            List<String> is = rows(into.id(), table, Map.of());
            if (table.equals("audit_entry")) {
                is = is.stream().filter(was::contains).toList();
            }
            assertThat(is).as(table).isEqualTo(was);
            if (!was.isEmpty()) {
                compared.put(table, was.size());
            }
        }
        assertThat(compared.keySet())
                .contains(
                        "vine", "movement", "lot_balance", "vine_row_tally", "task_log", "weather_day", "audit_entry");
        assertThat(compared).hasSizeGreaterThan(20);
        assertThat(one("select zone from vineyard where id = '" + into.id() + "'"))
                .isEqualTo("Europe/Berlin");
        assertThat(one(
                        "select string_agg(name, ', ' order by name) from membership m join account a on a.id = m.account_id"
                                + " where m.vineyard_id = '" + into.id() + "' and m.ended_at is not null"))
                .isEqualTo("Ada Owner, Hana Helper, Rudi Reader");
        assertThat(one("select encode(content, 'hex') from picture where kind = 'PAPER' and vineyard_id = '" + into.id()
                        + "'"))
                .isEqualTo("255044462d312e34");
        assertThat(into.as(Role.OWNER).open("/").status()).isEqualTo(200);
        assertThat(into.as(Role.OWNER).open("/lots").body()).contains("-A");

        // And what is so full can be deleted to the last row, while the vineyard it came from keeps all.
        one("update vineyard set delete_after = now() - interval '1 second' where id = '" + into.id()
                + "' returning 1");
        deletions.deleteDue();
        for (String table : tables()) {
            assertThat(rows(into.id(), table, Map.of())).as(table).isEmpty();
        }
        assertThat(one("select count(*) from account where id::text in ('" + String.join("','", people.values())
                        + "')"))
                .isEqualTo("0");
        assertThat(rows(from.id(), "vine", Map.of())).hasSize(compared.get("vine"));
    }

    private void seed(TestVineyard vineyard) {
        SeededDemo demo = new SeededDemo(beans, time, jdbc);
        demo.onFirstDay(() -> demo.seed(vineyard));
        demo.awaitEndOfSearches(vineyard);
        vineyard.run(() -> {
            jdbc.sql(
                            "insert into picture (id, kind, content) values (gen_random_uuid(), 'PAPER', '\\x255044462d312e34')")
                    .update();
            jdbc.sql("insert into picture (id, kind, content, small) values (gen_random_uuid(), 'PHOTO', '\\xffd8ffe0',"
                            + " '\\xffd8ffe1')")
                    .update();
        });
    }

    private static void shareLead(TestVineyard from, TestVineyard into) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                PreparedStatement join = owner.prepareStatement(
                        "insert into membership (vineyard_id, id, account_id, role) values (?, gen_random_uuid(), ?, 'LEAD')")) {
            join.setObject(1, into.id());
            join.setObject(2, from.account(Role.LEAD));
            join.executeUpdate();
        }
    }

    /** Which account each person of the archive has become, by name; the lead stayed. */
    private static Map<String, String> people(TestVineyard from, TestVineyard into) throws SQLException {
        Map<String, String> ids = new TreeMap<>();
        ids.put(from.id().toString(), into.id().toString());
        for (Role role : new Role[] {Role.OWNER, Role.HELPER, Role.READER}) {
            String was = from.account(role).toString();
            ids.put(
                    was,
                    one(
                            "select a.id::text from membership m join account a on a.id = m.account_id where m.vineyard_id = '"
                                    + into.id()
                                    + "' and m.ended_at is not null and a.name = (select name from account where id = '"
                                    + was + "')"));
        }
        return ids;
    }

    private static List<String> tables() throws SQLException {
        List<String> tables = new ArrayList<>();
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement();
                ResultSet names = statement.executeQuery("""
                        select c.relname from pg_class c join pg_attribute a on a.attrelid = c.oid and a.attname = 'vineyard_id'
                         where c.relnamespace = 'public'::regnamespace and c.relkind = 'r' order by 1""")) {
            while (names.next()) {
                if (!OWN.contains(names.getString(1))) {
                    tables.add(names.getString(1));
                }
            }
        }
        return tables;
    }

    /** Every row as JSON, without its vineyard and the numbers that the database gives; in the order of those numbers. */
    private static List<String> rows(UUID vineyard, String table, Map<String, String> ids) throws SQLException {
        String numbered = table.equals("movement") ? "seq" : table.equals("audit_entry") ? "id" : "";
        List<String> rows = new ArrayList<>();
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement();
                ResultSet all = statement.executeQuery("select (to_jsonb(t) - 'vineyard_id' - '" + numbered
                        + "')::text from " + table + " t where vineyard_id = '" + vineyard + "'"
                        + (numbered.isEmpty() ? "" : " order by " + numbered))) {
            while (all.next()) {
                String row = all.getString(1);
                for (Map.Entry<String, String> id : ids.entrySet()) {
                    row = row.replace(id.getKey(), id.getValue());
                }
                rows.add(row);
            }
        }
        if (numbered.isEmpty()) {
            rows.sort(null);
        }
        return rows;
    }

    private static String one(String sql) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getString(1);
        }
    }
}
