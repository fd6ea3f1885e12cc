package org.rootling.platform.db;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.Arrays;
import java.util.List;
import org.postgresql.ds.PGSimpleDataSource;
import org.springframework.core.env.Environment;
import org.springframework.core.env.SimpleCommandLinePropertySource;
import org.springframework.core.env.StandardEnvironment;

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

    /** A command of the command line about one word, such as an address or a file; returns the exit code. */
    @FunctionalInterface
    public interface Command {
        int with(Environment environment, String word) throws IOException, SQLException;
    }

    private OwnerAccess() {}

    /**
     * Does a command of the command line; what goes wrong is said.
     *
     * @param arguments the command's name, its word, and settings as the program itself takes them
     * @param usage said when there is not exactly one word
     * @return the exit code: 1 when it could not be done, 2 when it was not understood
     */
    public static int command(String[] arguments, PrintStream out, String usage, Command command) {
        StandardEnvironment environment = new StandardEnvironment();
        environment.getPropertySources().addFirst(new SimpleCommandLinePropertySource(arguments));
        List<String> plain = Arrays.stream(arguments)
                .filter(argument -> !argument.startsWith("--"))
                .toList();
        if (plain.size() != 2) {
            out.println("usage: " + usage);
            return 2;
        }
        try {
            return command.with(environment, plain.get(1));
        } catch (HomeUnusable unusable) {
            out.println(unusable.getMessage());
            return 1;
        } catch (IOException | SQLException failure) {
            out.println("That did not work: " + failure.getMessage());
            return 1;
        }
    }

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
