package org.rootling.people;

import java.io.IOException;
import java.io.PrintStream;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.Arrays;
import java.util.List;
import org.rootling.platform.db.HomeUnusable;
import org.rootling.platform.db.OwnerAccess;
import org.springframework.core.env.SimpleCommandLinePropertySource;
import org.springframework.core.env.StandardEnvironment;

/** {@code sign-out ADDRESS} or {@code sign-out everyone} on the command line: ends the sessions of a person, or all. */
public final class SignOutCommand {

    private static final String EVERYONE = "everyone";

    private SignOutCommand() {}

    /** Whether the arguments ask for it. */
    public static boolean is(String[] arguments) {
        return arguments.length > 0 && arguments[0].equals("sign-out");
    }

    /** Does it; returns the exit code. */
    public static int run(String[] arguments, PrintStream out) {
        StandardEnvironment environment = new StandardEnvironment();
        environment.getPropertySources().addFirst(new SimpleCommandLinePropertySource(arguments));
        List<String> plain = Arrays.stream(arguments)
                .filter(argument -> !argument.startsWith("--"))
                .toList();
        if (plain.size() != 2) {
            out.println("usage: sign-out ADDRESS | sign-out everyone  [the settings that Rootling runs with]");
            return 2;
        }
        String who = plain.get(1).strip();
        try {
            int ended = OwnerAccess.run(environment, owner -> {
                try (Connection connection = owner.getConnection();
                        PreparedStatement end = connection.prepareStatement(
                                "delete from spring_session where principal_name is not null"
                                        + " and (principal_name = lower(?) or ? = '" + EVERYONE + "')")) {
                    end.setString(1, who);
                    end.setString(2, who);
                    return end.executeUpdate();
                }
            });
            out.println("Ended sessions: " + ended);
            return 0;
        } catch (HomeUnusable unusable) {
            out.println(unusable.getMessage());
            return 1;
        } catch (IOException | SQLException failure) {
            out.println("That did not work: " + failure.getMessage());
            return 1;
        }
    }
}
