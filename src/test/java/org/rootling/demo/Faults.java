package org.rootling.demo;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.springframework.boot.test.context.TestComponent;
import org.springframework.dao.DataAccessResourceFailureException;
import org.springframework.jdbc.UncategorizedSQLException;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;

/** Pages that go wrong, each in its way, so that what is said then can be looked at in the browser. */
@TestComponent
@Controller
class Faults {

    @GetMapping("/v/{vineyard}/faults/{which}")
    @Needs(Role.READER)
    void fault(@PathVariable String which, HttpServletResponse response) throws IOException {
        switch (which) {
            case "away" ->
                throw new DataAccessResourceFailureException("x", new SQLTransientConnectionException("no connection"));
            case "full" ->
                throw new UncategorizedSQLException(
                        "x", "insert", new SQLException("No space left on device", "53100"));
            case "busy" -> response.sendError(429);
            default -> throw new IllegalStateException("a bug");
        }
    }
}
