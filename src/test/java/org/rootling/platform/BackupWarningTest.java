package org.rootling.platform;

import static org.assertj.core.api.Assertions.assertThat;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** A vineyard has grown, and nobody kept a copy lately. */
@AppTest
class BackupWarningTest {

    @Autowired
    TestVineyards vineyards;

    @AfterEach
    void noBackups() throws SQLException {
        sql("delete from backup_made");
    }

    @Test
    void theOwnerIsWarnedOfAnOldBackupOrNoneAndNobodyElse() throws SQLException {
        noBackups();
        TestVineyard vineyard = vineyards.fresh();
        assertThat(today(vineyard, Role.OWNER)).as("on the first day").doesNotContain("backed up", "backup");
        sql("update vineyard set created_at = now() - interval '30 days' where id = '" + vineyard.id() + "'");
        assertThat(today(vineyard, Role.OWNER)).contains("was never backed up");
        sql("insert into backup_made (bytes, at) values (1, now() - interval '9 days')");
        assertThat(today(vineyard, Role.OWNER)).contains("is 9 days old");
        assertThat(today(vineyard, Role.LEAD)).doesNotContain("days old");
        sql("insert into backup_made (bytes, at) values (1, now() - interval '6 days')");
        assertThat(today(vineyard, Role.OWNER)).doesNotContain("days old");
    }

    private static String today(TestVineyard vineyard, Role role) {
        return vineyard.as(role).open("/").page().select("main").text();
    }

    private static void sql(String sql) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement()) {
            statement.execute(sql);
        }
    }
}
