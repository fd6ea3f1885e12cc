package org.rootling.platform.db;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.StringReader;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.Map;
import java.util.TreeMap;
import org.postgresql.PGConnection;

/** The demo's vineyard as the first released schema held it: COPY text, one table after another, each after those it needs. */
public final class TestSnapshot {

    /** The schema it is of. */
    public static final String SCHEMA = "0901";

    private TestSnapshot() {}

    /** Enters it into a database of that schema; rows by table. */
    public static Map<String, Long> enter(Connection owner) throws SQLException, IOException {
        Map<String, Long> rows = new TreeMap<>();
        try (InputStream in = TestSnapshot.class.getResourceAsStream("/schema-0901.sql");
                BufferedReader lines = new BufferedReader(new InputStreamReader(in, StandardCharsets.UTF_8));
                Statement statement = owner.createStatement()) {
            for (String copy = lines.readLine(); copy != null; copy = lines.readLine()) {
                String table = copy.split(" ")[1];
                StringBuilder text = new StringBuilder();
                for (String line = lines.readLine(); !line.equals("\\."); line = lines.readLine()) {
                    text.append(line).append('\n');
                }
                // The rows are as the triggers of then left them; they must not run again.
                statement.execute("alter table " + table + " disable trigger user");
                rows.put(
                        table,
                        owner.unwrap(PGConnection.class)
                                .getCopyAPI()
                                .copyIn(copy.replace(";", ""), new StringReader(text.toString())));
                statement.execute("alter table " + table + " enable trigger user");
            }
            statement.execute(
                    "select setval(pg_get_serial_sequence('movement', 'seq'), (select max(seq) from movement))");
            statement.execute(
                    "select setval(pg_get_serial_sequence('audit_entry', 'id'), (select max(id) from audit_entry))");
        }
        return rows;
    }
}
