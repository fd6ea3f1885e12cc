package org.rootling.platform;

import java.sql.SQLException;
import org.jspecify.annotations.Nullable;
import org.postgresql.util.PSQLException;
import org.postgresql.util.ServerErrorMessage;
import org.thymeleaf.exceptions.TemplateProcessingException;

/**
 * A fault as it may be logged: what kind it was, where, and what caused it, without its message. Messages repeat what was
 * read ("could not parse 'Jane Doe'"), and nobody is to be named in a log.
 */
public final class Wordless extends Exception {

    private static final int DEEPEST = 20;

    private Wordless(String kind, StackTraceElement[] where, @Nullable Wordless cause) {
        super(kind, cause, false, true);
        setStackTrace(where);
    }

    public static Wordless of(Throwable fault) {
        return of(fault, DEEPEST);
    }

    private static Wordless of(Throwable fault, int depth) {
        Throwable cause = fault.getCause();
        return new Wordless(
                kind(fault),
                fault.getStackTrace(),
                cause == null || cause == fault || depth == 0 ? null : of(cause, depth - 1));
    }

    private static String kind(Throwable fault) {
        String name = fault.getClass().getName();
        if (fault instanceof TemplateProcessingException page && page.getTemplateName() != null) {
            return name + ", template " + page.getTemplateName() + ", line " + page.getLine();
        }
        if (!(fault instanceof SQLException sql)) {
            return name;
        }
        ServerErrorMessage told = sql instanceof PSQLException server ? server.getServerErrorMessage() : null;
        return name + ", SQLSTATE " + sql.getSQLState()
                + (told == null || told.getTable() == null ? "" : ", table " + told.getTable())
                + (told == null || told.getConstraint() == null ? "" : ", constraint " + told.getConstraint());
    }
}
