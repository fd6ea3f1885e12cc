package org.rootling.people;

import java.io.PrintStream;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Instant;
import java.time.InstantSource;
import javax.sql.DataSource;
import org.rootling.people.domain.Secrets;
import org.rootling.people.domain.WaysIn;
import org.rootling.platform.db.OwnerAccess;

/**
 * {@code way-in ADDRESS} on the command line: makes a link by which a person sets a new password, and which ends their
 * second factor, for who lost the phone and the codes on paper too. Whoever runs the server makes sure who is asking.
 */
public final class WayInCommand {

    private WayInCommand() {}

    /** Whether the arguments ask for it. */
    public static boolean is(String[] arguments) {
        return arguments.length > 0 && arguments[0].equals("way-in");
    }

    /** Does it; returns the exit code. */
    public static int run(String[] arguments, PrintStream out) {
        return OwnerAccess.command(
                arguments,
                out,
                "way-in ADDRESS  [--rootling.url=https://… and the settings that Rootling runs with]",
                (environment, address) -> {
                    String secret = Secrets.next();
                    if (!OwnerAccess.run(environment, owner -> make(owner, address.strip(), secret))) {
                        out.println("There is no account with this address.");
                        return 1;
                    }
                    out.println("Good once, for " + WaysIn.VALID.toMinutes()
                            + " minutes; sets a new password and ends the second factor:");
                    out.println(environment.getProperty("rootling.url", "http://localhost:8080") + "/way-in/" + secret);
                    return 0;
                });
    }

    private static boolean make(DataSource owner, String address, String secret) throws SQLException {
        Instant until = InstantSource.system().instant().plus(WaysIn.VALID);
        try (Connection connection = owner.getConnection();
                PreparedStatement insert = connection.prepareStatement(
                        "insert into way_in (token_hash, account_id, expires_at, ends_factor)"
                                + " select ?, id, ?, true from account where email = lower(?) and closed_at is null")) {
            insert.setString(1, Secrets.hash(secret));
            insert.setTimestamp(2, Timestamp.from(until));
            insert.setString(3, address);
            return insert.executeUpdate() == 1;
        }
    }
}
