package org.rootling.platform.db;

import java.io.IOException;
import java.io.PrintStream;
import java.nio.file.Path;
import java.sql.SQLException;
import org.jspecify.annotations.Nullable;
import org.postgresql.ds.PGSimpleDataSource;
import org.springframework.core.env.Environment;

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
        return OwnerAccess.command(
                arguments,
                out,
                "backup FILE | restore FILE  [--rootling.home=DIR | --spring.datasource.url=URL "
                        + "--spring.datasource.username=ROLE --spring.flyway.user=OWNER --spring.flyway.password=…]",
                (environment, name) -> {
                    Path file = Path.of(name);
                    boolean writing = arguments[0].equals("backup");
                    long rows = writing
                            ? OwnerAccess.run(
                                    environment,
                                    owner -> backup(owner, environment).write(file, key(environment)))
                            : restore(environment, file);
                    out.println(
                            (writing ? "Kept " : "Put back ") + rows + " rows " + (writing ? "in " : "from ") + file);
                    return 0;
                });
    }

    private static long restore(Environment environment, Path file) throws IOException, SQLException {
        if (!OwnerAccess.external(environment) && OwnerAccess.embeddedExists(environment)) {
            throw new HomeUnusable("There is a Rootling in " + OwnerAccess.home(environment)
                    + " already. A backup goes into a new folder.");
        }
        return OwnerAccess.runOrMake(
                environment, owner -> backup(owner, environment).read(file, key(environment)));
    }

    private static Backup backup(PGSimpleDataSource owner, Environment environment) {
        return new Backup(owner, environment.getProperty("spring.datasource.username", EmbeddedServer.APP));
    }

    /** The key of encrypted secrets stands beside the embedded database only. */
    private static @Nullable Path key(Environment environment) {
        return OwnerAccess.external(environment)
                ? null
                : OwnerAccess.home(environment).resolve("secret.key");
    }
}
