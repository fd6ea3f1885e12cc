package org.rootling.platform.db;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.UUID;
import javax.sql.DataSource;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Tenancy;
import org.springframework.jdbc.datasource.DelegatingDataSource;

/**
 * Tells PostgreSQL, at every checkout, which vineyard and account the connection now works for. It is always told, also
 * that there is none, so that nothing is left over from the connection's last use.
 */
class TenantDataSource extends DelegatingDataSource {

    TenantDataSource(DataSource pool) {
        super(pool);
    }

    @Override
    public Connection getConnection() throws SQLException {
        Connection connection = super.getConnection();
        try (PreparedStatement tell = connection.prepareStatement(
                "select set_config('rootling.vineyard', ?, false), set_config('rootling.account', ?, false)")) {
            tell.setString(1, text(Tenancy.vineyardOrNull()));
            tell.setString(2, text(Tenancy.accountOrNull()));
            tell.execute();
        } catch (SQLException | RuntimeException failure) {
            connection.close();
            throw failure;
        }
        return connection;
    }

    private static String text(@Nullable UUID id) {
        return id == null ? "" : id.toString();
    }
}
