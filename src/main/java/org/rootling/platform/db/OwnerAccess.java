package org.rootling.platform.db;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import org.postgresql.ds.PGSimpleDataSource;
import org.springframework.core.env.Environment;

/**
 * The schema owner's way into the database for commands of the command line, with the same settings as the program itself:
 * the embedded server of {@code --rootling.home}, running or not, or the database of {@code --spring.datasource.url}.
 */
public final class OwnerAccess {

    /** What is done there. */
    @FunctionalInterface
    public interface Work<T> {
        T with(PGSimpleDataSource owner) throws IOException, SQLException;
    }

    private OwnerAccess() {}

    /**
     * Does it in the database that is there.
     *
     * @throws HomeUnusable when there is none
     */
    public static <T> T run(Environment environment, Work<T> work) throws IOException, SQLException {
        if (!external(environment) && !embeddedExists(environment)) {
            throw new HomeUnusable("There is no Rootling in " + home(environment) + ".");
        }
        return runOrMake(environment, work);
    }

    /** The same; an embedded database that is not there is made. */
    static <T> T runOrMake(Environment environment, Work<T> work) throws IOException, SQLException {
        if (external(environment)) {
            return work.with(externalOwner(environment));
        }
        PGSimpleDataSource running = EmbeddedServer.runningIn(home(environment));
        if (running != null) {
            return work.with(running);
        }
        try (EmbeddedServer server = EmbeddedServer.start(home(environment))) {
            return work.with(server.owner());
        }
    }

    static boolean external(Environment environment) {
        return !environment.getProperty("spring.datasource.url", "embedded").equals("embedded");
    }

    static Path home(Environment environment) {
        return Path.of(environment.getProperty("rootling.home", "./data"))
                .toAbsolutePath()
                .normalize();
    }

    static boolean embeddedExists(Environment environment) {
        return Files.exists(home(environment).resolve("postgres/data/PG_VERSION"));
    }

    private static PGSimpleDataSource externalOwner(Environment environment) {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setUrl(
                environment.getProperty("spring.flyway.url", environment.getRequiredProperty("spring.datasource.url")));
        String user = environment.getProperty("spring.flyway.user");
        if (user == null) {
            throw new HomeUnusable("spring.flyway.user is missing: the role that owns the schema.");
        }
        source.setUser(user);
        source.setPassword(environment.getProperty("spring.flyway.password", ""));
        return source;
    }
}
