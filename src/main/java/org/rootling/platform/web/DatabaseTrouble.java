package org.rootling.platform.web;

import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;

/** Tells faults of the database itself from faults of what was asked of it (PostgreSQL, appendix A: error codes). */
enum DatabaseTrouble {
    /** No connection, or the server is stopping, starting or crashed. */
    AWAY,
    /** The server's disk is full. */
    FULL,
    NONE;

    static DatabaseTrouble of(Throwable failure) {
        int depth = 0;
        for (Throwable cause = failure; cause != null && depth < 30; cause = cause.getCause(), depth++) {
            if (cause instanceof SQLTransientConnectionException) {
                return AWAY;
            }
            if (cause instanceof SQLException sql && sql.getSQLState() != null) {
                String state = sql.getSQLState();
                if (state.equals("53100")) {
                    return FULL;
                }
                if (state.startsWith("08") || state.startsWith("57P") || state.equals("53300")) {
                    return AWAY;
                }
                // A file that could not be grown or written: the disk, as far as anyone can tell.
                if (state.equals("58030") || state.equals("53000")) {
                    return FULL;
                }
            }
        }
        return NONE;
    }
}
