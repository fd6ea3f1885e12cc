package org.rootling.people.web;

import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/** Notes what happens at the doors, for whoever looks after the server: accounts by their number, nobody by name. */
final class SecurityLog {

    private static final Logger LOG = LoggerFactory.getLogger("org.rootling.security");

    private SecurityLog() {}

    static void signedIn(UUID account, String how) {
        LOG.info("signed in: account {} by {}", account, how);
    }

    static void refusedAtTheDoor(String why) {
        LOG.info("not signed in: {}", why);
    }

    static void newPassword(UUID account) {
        LOG.info("new password: account {} by a link", account);
    }

    static void codesRequired(UUID account, boolean required) {
        LOG.info("codes {}: by account {}", required ? "required" : "not required", account);
    }

    static void refused(@Nullable UUID account, String why) {
        LOG.info("refused: account {} {}", account, why);
    }
}
