package org.rootling.platform.db;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;

/**
 * The two roles of the application: one owns the schema and runs migrations, the other serves requests and owns nothing.
 * Neither is a superuser.
 */
public final class DatabaseRoles {

    private DatabaseRoles() {}

    /** Makes roles and database where they are missing; to be run by a superuser. */
    public static void ensure(
            Statement statement, String database, String owner, String ownerPassword, String app, String appPassword)
            throws SQLException {
        role(statement, owner, ownerPassword);
        role(statement, app, appPassword);
        if (!exists(statement, "select 1 from pg_database where datname = '" + database + "'")) {
            statement.execute(
                    "create database " + database + " owner " + owner + " encoding 'UTF8' template template0");
            statement.execute("revoke all on database " + database + " from public");
            statement.execute("grant connect on database " + database + " to " + app);
        }
    }

    private static void role(Statement statement, String name, String password) throws SQLException {
        String verb = exists(statement, "select 1 from pg_roles where rolname = '" + name + "'") ? "alter" : "create";
        statement.execute(verb + " role " + name + " login nosuperuser nocreatedb nocreaterole nobypassrls password '"
                + password + "'");
    }

    private static boolean exists(Statement statement, String query) throws SQLException {
        try (ResultSet found = statement.executeQuery(query)) {
            return found.next();
        }
    }
}
