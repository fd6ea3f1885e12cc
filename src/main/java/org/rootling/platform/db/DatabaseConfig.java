package org.rootling.platform.db;

import com.zaxxer.hikari.HikariConfig;
import com.zaxxer.hikari.HikariDataSource;
import javax.sql.DataSource;
import org.postgresql.ds.PGSimpleDataSource;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.boot.flyway.autoconfigure.FlywayConfigurationCustomizer;
import org.springframework.boot.flyway.autoconfigure.FlywayDataSource;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.context.annotation.Primary;
import org.springframework.core.env.Environment;

/**
 * Where the data are: the embedded server, or any PostgreSQL named by {@code spring.datasource.url} (the application's
 * role) and {@code spring.flyway.user} (the schema's owner). Nothing else differs.
 */
@Configuration(proxyBeanMethods = false)
class DatabaseConfig {

    /** Address and sign-in of one role. */
    record Access(String url, String user, String password) {}

    @Bean
    @ConditionalOnProperty(name = "spring.datasource.url", matchIfMissing = true, havingValue = "embedded")
    EmbeddedServer embeddedServer(EmbeddedAhead.Starting starting) {
        return starting.server();
    }

    @Bean(destroyMethod = "close")
    HikariDataSource pool(ObjectProvider<EmbeddedServer> embedded, Environment environment) {
        EmbeddedServer server = embedded.getIfAvailable();
        Access access = server != null
                ? new Access(server.url(EmbeddedServer.DATABASE), EmbeddedServer.APP, server.appPassword())
                : new Access(
                        environment.getRequiredProperty("spring.datasource.url"),
                        environment.getRequiredProperty("spring.datasource.username"),
                        environment.getProperty("spring.datasource.password", ""));
        HikariConfig config = new HikariConfig();
        config.setJdbcUrl(access.url());
        config.setUsername(access.user());
        config.setPassword(access.password());
        config.setMaximumPoolSize(environment.getProperty("rootling.connections", Integer.class, 12));
        // Nodes, and the contexts of the tests, share one server: what is not used is given back.
        config.setMinimumIdle(2);
        config.setIdleTimeout(60_000);
        // Who waits longer than this for a connection is told that the database is away (503).
        config.setConnectionTimeout(environment.getProperty("rootling.connection-wait-ms", Long.class, 5_000L));
        config.setValidationTimeout(3_000);
        config.addDataSourceProperty("tcpKeepAlive", "true");
        config.addDataSourceProperty("connectTimeout", "5");
        // What the server says of a refused row is the row itself: other people's names do not belong into a log.
        config.addDataSourceProperty("logServerErrorDetail", "false");
        config.addDataSourceProperty("reWriteBatchedInserts", "true");
        config.addDataSourceProperty("ApplicationName", "rootling");
        return new HikariDataSource(config);
    }

    @Bean
    @Primary
    DataSource dataSource(HikariDataSource pool) {
        return new TenantDataSource(pool);
    }

    @Bean(defaultCandidate = false)
    @FlywayDataSource
    DataSource ownerDataSource(ObjectProvider<EmbeddedServer> embedded, Environment environment) {
        EmbeddedServer server = embedded.getIfAvailable();
        PGSimpleDataSource source = new PGSimpleDataSource();
        if (server != null) {
            source.setUrl(server.url(EmbeddedServer.DATABASE));
            source.setUser(EmbeddedServer.OWNER);
            source.setPassword(server.ownerPassword());
        } else {
            String user = environment.getProperty("spring.flyway.user");
            if (user == null) {
                throw new HomeUnusable(
                        "An external database needs two roles: spring.datasource.username serves requests, "
                                + "spring.flyway.user owns the schema. spring.flyway.user is missing.");
            }
            source.setUrl(environment.getProperty(
                    "spring.flyway.url", environment.getRequiredProperty("spring.datasource.url")));
            source.setUser(user);
            source.setPassword(environment.getProperty("spring.flyway.password", ""));
        }
        return source;
    }

    @Bean
    FlywayConfigurationCustomizer appRolePlaceholder(HikariDataSource pool) {
        String role = pool.getUsername();
        return flyway -> flyway.placeholders(java.util.Map.of("app_role", String.valueOf(role)));
    }
}
