package org.rootling.platform.db;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.SQLException;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.postgresql.ds.PGSimpleDataSource;
import org.springframework.core.env.SimpleCommandLinePropertySource;
import org.springframework.core.env.StandardEnvironment;

/**
 * {@code backup FILE} and {@code restore FILE} on the command line, with the same settings as the program itself: the
 * embedded server of {@code --rootling.home}, running or not, or the database of {@code --spring.datasource.url}.
 */
public final class BackupCommand {

    private BackupCommand() {}

    /** Whether the arguments are one of the two commands. */
    public static boolean is(String[] arguments) {
        return arguments.length > 0 && (arguments[0].equals("backup") || arguments[0].equals("restore"));
    }

    /** Does it; returns the exit code. */
    public static int run(String[] arguments, PrintStream out) {
        StandardEnvironment environment = new StandardEnvironment();
        environment.getPropertySources().addFirst(new SimpleCommandLinePropertySource(arguments));
        List<String> plain = java.util.Arrays.stream(arguments)
                .filter(argument -> !argument.startsWith("--"))
                .toList();
        if (plain.size() != 2) {
            out.println("usage: backup FILE | restore FILE  [--rootling.home=DIR | --spring.datasource.url=URL "
                    + "--spring.datasource.username=ROLE --spring.flyway.user=OWNER --spring.flyway.password=…]");
            return 2;
        }
        Path file = Path.of(plain.get(1));
        boolean writing = plain.get(0).equals("backup");
        try {
            long rows = external(environment)
                    ? work(external(environment, "spring.flyway"), environment, writing, file, null)
                    : embedded(environment, writing, file);
            out.println((writing ? "Kept " : "Put back ") + rows + " rows " + (writing ? "in " : "from ") + file);
            return 0;
        } catch (HomeUnusable unusable) {
            out.println(unusable.getMessage());
            return 1;
        } catch (IOException | SQLException failure) {
            out.println("That did not work: " + failure.getMessage());
            return 1;
        }
    }

    private static boolean external(StandardEnvironment environment) {
        String url = environment.getProperty("spring.datasource.url", "embedded");
        return !url.equals("embedded");
    }

    private static PGSimpleDataSource external(StandardEnvironment environment, String owner) {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setUrl(
                environment.getProperty(owner + ".url", environment.getRequiredProperty("spring.datasource.url")));
        String user = environment.getProperty(owner + ".user");
        if (user == null) {
            throw new HomeUnusable("spring.flyway.user is missing: the role that owns the schema.");
        }
        source.setUser(user);
        source.setPassword(environment.getProperty(owner + ".password", ""));
        return source;
    }

    private static long embedded(StandardEnvironment environment, boolean writing, Path file)
            throws IOException, SQLException {
        Path home = Path.of(environment.getProperty("rootling.home", "./data"))
                .toAbsolutePath()
                .normalize();
        boolean there = Files.exists(home.resolve("postgres/data/PG_VERSION"));
        if (writing && !there) {
            throw new HomeUnusable("There is no Rootling in " + home + ".");
        }
        if (!writing && there) {
            throw new HomeUnusable("There is a Rootling in " + home + " already. A backup goes into a new folder.");
        }
        Path key = home.resolve("secret.key");
        PGSimpleDataSource running = EmbeddedServer.runningIn(home);
        if (running != null) {
            return work(running, environment, writing, file, key);
        }
        try (EmbeddedServer server = EmbeddedServer.start(home)) {
            return work(server.owner(), environment, writing, file, key);
        }
    }

    private static long work(
            PGSimpleDataSource owner, StandardEnvironment environment, boolean writing, Path file, @Nullable Path key)
            throws IOException, SQLException {
        Backup backup = new Backup(owner, environment.getProperty("spring.datasource.username", EmbeddedServer.APP));
        return writing ? backup.write(file, key) : backup.read(file, key);
    }
}
