package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.Test;
import org.rootling.people.domain.Deletions;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockHttpServletResponse;
import org.springframework.test.web.servlet.MockMvc;

/** An account or a vineyard is deleted: asked for, waited for, and then gone from every table. */
@AppTest
class DeletionTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Deletions deletions;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    MockMvc mvc;

    @Test
    void aDeletedPersonIsInNoTableAnyMoreAndWhatTheyDidStays() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String name = "Wilhelmina Testperson " + vineyard.slug();
        String email = vineyard.email(Role.HELPER);
        sql("update account set name = '" + name + "' where id = '" + vineyard.account(Role.HELPER) + "'");
        vineyard.run(() -> {
            jdbc.sql(
                            "insert into work_person (id, account_id, name, hours) values (:id, :account, :name, '{8,8,8,8,8,0,0}')")
                    .param("id", UUID.randomUUID())
                    .param("account", vineyard.account(Role.HELPER))
                    .param("name", name)
                    .update();
            jdbc.sql(
                            "insert into own_variety (id, name, colour, note) values (gen_random_uuid(), 'Kept', 'WHITE', 'kept')")
                    .update();
        });
        assertThat(tablesWith(name)).contains("account", "work_person", "audit_entry");
        mvc.perform(post("/sign-in").with(csrf()).param("email", email).param("password", TestVineyards.PASSWORD));
        assertThat(tablesWith(email)).contains("spring_session");

        assertThat(send(vineyard, Role.HELPER, "/account/safety/delete", "present", "wrong password")
                        .getContentAsString())
                .contains("present password");
        assertThat(send(vineyard, Role.HELPER, "/account/safety/delete", "present", TestVineyards.PASSWORD)
                        .getStatus())
                .isEqualTo(302);
        deletions.deleteDue();
        assertThat(tablesWith(name)).as("the waiting time is not over").contains("account");
        sql("update account set delete_after = now() - interval '1 second' where id = '" + vineyard.account(Role.HELPER)
                + "'");
        deletions.deleteDue();

        assertThat(tablesWith(name)).isEmpty();
        assertThat(tablesWith(email)).isEmpty();
        assertThat(tablesWith(vineyard.token(Role.HELPER))).isEmpty();
        assertThat(mvc.perform(post("/sign-in")
                                .with(csrf())
                                .param("email", email)
                                .param("password", TestVineyards.PASSWORD))
                        .andReturn()
                        .getResponse()
                        .getRedirectedUrl())
                .contains("failed");
        assertThat(vineyard.as(Role.OWNER).open("/history").status()).isEqualTo(200);
        assertThat(vineyard.as(Role.OWNER).open("/people").body()).contains("Ada Owner");
        assertThat(tablesWith("Ada Owner")).contains("account");
        assertThat(vineyard.<Integer>inside(() -> jdbc.sql("select count(*) from own_variety")
                        .query(Integer.class)
                        .single()))
                .isEqualTo(1);
    }

    @Test
    void theLastOwnerCannotGoAndADeletionCanBeTakenBack() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        assertThat(send(vineyard, Role.OWNER, "/account/safety/delete", "present", TestVineyards.PASSWORD)
                        .getContentAsString())
                .contains("last owner of Test " + vineyard.slug());
        send(vineyard, Role.READER, "/account/safety/delete", "present", TestVineyards.PASSWORD);
        String page = mvc.perform(get("/account/safety").with(TestRequests.as(vineyard, Role.READER)))
                .andReturn()
                .getResponse()
                .getContentAsString();
        assertThat(Jsoup.parse(page).select("#delete").text()).contains("will be deleted on", "Keep the account");
        send(vineyard, Role.READER, "/account/safety/keep");
        assertThat(one("select count(*) from account where delete_after is not null and id = '"
                        + vineyard.account(Role.READER) + "'"))
                .isEqualTo("0");
    }

    @Test
    void whatIsKeptAboutMeCanBeTakenAlong() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        MockHttpServletResponse answer = mvc.perform(
                        get("/account/safety/about-me.json").with(TestRequests.as(vineyard, Role.HELPER)))
                .andReturn()
                .getResponse();
        assertThat(answer.getContentAsString())
                .contains(vineyard.email(Role.HELPER), "Test " + vineyard.slug())
                .doesNotContain("password");
    }

    @Test
    void aDeletedVineyardLeavesNoRowInAnyTableAndItsNeighbourEveryRow() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        TestVineyard neighbour = vineyards.fresh();
        for (TestVineyard one : List.of(vineyard, neighbour)) {
            one.run(() -> jdbc.sql(
                            "insert into own_variety (id, name, colour) values (gen_random_uuid(), 'X', 'WHITE')")
                    .update());
        }
        long before = rowsOf(neighbour.id());
        var owner = vineyard.as(Role.OWNER);

        assertThat(owner.open("/delete").page().select("a[href$=/archive]")).isNotEmpty();
        assertThat(owner.send("/delete", "name", "another", "present", TestVineyards.PASSWORD)
                        .page()
                        .select(".error")
                        .text())
                .contains("not the name");
        assertThat(vineyard.as(Role.LEAD).send("/delete", "name", "x").status()).isEqualTo(403);
        owner.sendAndFollow("/delete", "name", "Test " + vineyard.slug(), "present", TestVineyards.PASSWORD);
        assertThat(owner.open("/delete").page().text()).contains("will be deleted on");
        owner.send("/delete/keep");
        assertThat(owner.open("/delete").page().text()).doesNotContain("will be deleted on");
        owner.sendAndFollow("/delete", "name", "Test " + vineyard.slug(), "present", TestVineyards.PASSWORD);
        deletions.deleteDue();
        assertThat(rowsOf(vineyard.id())).isPositive();
        sql("update vineyard set delete_after = now() - interval '1 second' where id = '" + vineyard.id() + "'");
        deletions.deleteDue();

        assertThat(rowsOf(vineyard.id())).isZero();
        assertThat(tablesWith(vineyard.id().toString())).isEmpty();
        assertThat(owner.open("/").status()).isEqualTo(404);
        assertThat(rowsOf(neighbour.id())).isEqualTo(before);
        assertThat(neighbour.as(Role.OWNER).open("/").status()).isEqualTo(200);
    }

    @Test
    void theApplicationCannotDeleteWhatNobodyAskedFor() throws SQLException {
        TestVineyard vineyard = vineyards.fresh();
        try (Connection app = TestDatabase.asApp();
                Statement statement = app.createStatement()) {
            for (String call : new String[] {
                "select rootling_delete_vineyard('" + vineyard.id() + "')",
                "select rootling_delete_account('" + vineyard.account(Role.READER) + "')",
                "insert into deleting values ('" + vineyard.id() + "', pg_current_xact_id())"
            }) {
                org.assertj.core.api.Assertions.assertThatThrownBy(() -> statement.execute(call))
                        .as(call)
                        .isInstanceOf(SQLException.class);
            }
        }
    }

    private MockHttpServletResponse send(TestVineyard vineyard, Role role, String path, String... fields)
            throws Exception {
        var request = post(path).with(csrf()).with(TestRequests.as(vineyard, role));
        for (int i = 0; i < fields.length; i += 2) {
            request.param(fields[i], fields[i + 1]);
        }
        return mvc.perform(request).andReturn().getResponse();
    }

    /** Every table that has the text in any column of any row. */
    private static List<String> tablesWith(String text) throws SQLException {
        return column(tables("true").stream()
                .map(table -> "select '" + table + "' where exists (select 1 from " + table + " t where t::text like '%"
                        + text + "%')")
                .collect(Collectors.joining(" union all ")));
    }

    private static long rowsOf(UUID vineyard) throws SQLException {
        return Long.parseLong(one(
                tables("exists (select 1 from pg_attribute a where a.attrelid = c.oid and a.attname = 'vineyard_id')")
                        .stream()
                        .map(table -> "(select count(*) from " + table + " where vineyard_id = '" + vineyard + "')")
                        .collect(Collectors.joining(" + ", "select ", ""))));
    }

    private static List<String> tables(String which) throws SQLException {
        return column(
                "select c.relname from pg_class c where c.relnamespace = 'public'::regnamespace and c.relkind = 'r' and "
                        + which);
    }

    private static List<String> column(String sql) throws SQLException {
        List<String> values = new ArrayList<>();
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement();
                ResultSet rows = statement.executeQuery(sql)) {
            while (rows.next()) {
                values.add(rows.getString(1));
            }
        }
        return values;
    }

    private static String one(String sql) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getString(1);
        }
    }

    private static void sql(String sql) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement()) {
            statement.execute(sql);
        }
    }
}
