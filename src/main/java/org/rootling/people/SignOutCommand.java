package org.rootling.people;

import java.io.PrintStream;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import javax.sql.DataSource;
import org.rootling.platform.db.OwnerAccess;

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
        return OwnerAccess.command(
                arguments,
                out,
                "sign-out ADDRESS | sign-out everyone  [the settings that Rootling runs with]",
                (environment, who) -> {
                    out.println("Ended sessions: " + OwnerAccess.run(environment, owner -> end(owner, who.strip())));
                    return 0;
                });
    }

    private static int end(DataSource owner, String who) throws SQLException {
        try (Connection connection = owner.getConnection();
                PreparedStatement end =
                        connection.prepareStatement("delete from spring_session where principal_name is not null"
                                + " and (principal_name = lower(?) or ? = '" + EVERYONE + "')")) {
            end.setString(1, who);
            end.setString(2, who);
            return end.executeUpdate();
        }
    }
}
