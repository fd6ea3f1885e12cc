package org.rootling.faults;

import java.security.MessageDigest;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.HexFormat;
import java.util.UUID;

/** A vineyard with one helper and many rows to weed, made straight in the database: 100 places a row, one task each. */
record FaultVineyard(UUID id, String slug, String token, UUID[] tasks) {

    static final int PLACES = 100;

    /** A place as a helper writes it down; row n is the task n's. */
    static String run(int task, int place) {
        return "F r" + (task + 1) + " " + place;
    }

    static FaultVineyard make(Connection owner, int rows) throws Exception {
        UUID vineyard = UUID.randomUUID();
        UUID account = UUID.randomUUID();
        UUID block = UUID.randomUUID();
        String slug = "faults-" + vineyard.toString().substring(0, 8);
        String token = "rtl_" + UUID.randomUUID() + UUID.randomUUID();
        run(owner, "insert into vineyard (id, slug, name, zone) values (?, ?, 'Faults', 'UTC')", vineyard, slug);
        run(
                owner,
                "insert into account (id, email, name, password_hash) values (?, ?, 'Hana', 'none')",
                account,
                slug + "@rootling.example");
        run(
                owner,
                "insert into membership (vineyard_id, id, account_id, role) values (?, ?, ?, 'OWNER')",
                vineyard,
                UUID.randomUUID(),
                account);
        run(
                owner,
                "insert into api_token (vineyard_id, id, account_id, name, token_hash, role) values (?, ?, ?, 'x', ?, 'OWNER')",
                vineyard,
                UUID.randomUUID(),
                account,
                HexFormat.of().formatHex(MessageDigest.getInstance("SHA-256").digest(token.getBytes("UTF-8"))));
        run(
                owner,
                "insert into block (vineyard_id, id, code, name, boundary, area_m2, boundary_source) values (?, ?, 'F', 'F',"
                        + " '{\"type\":\"Polygon\",\"coordinates\":[[[0,0],[230,0],[230,140],[0,140],[0,0]]]}', 32200, 'TYPED')",
                vineyard,
                block);
        UUID[] tasks = new UUID[rows];
        for (int n = 0; n < rows; n++) {
            UUID row = UUID.randomUUID();
            tasks[n] = UUID.randomUUID();
            run(
                    owner,
                    "insert into vine_row (vineyard_id, id, block_id, number, places) values (?, ?, ?, ?, 100)",
                    vineyard,
                    row,
                    block,
                    n + 1);
            run(
                    owner,
                    "insert into row_stretch (vineyard_id, id, row_id, segment, first_place, places, start_x, start_y, end_x,"
                            + " end_y, start_gap_m, end_gap_m, vine_spacing_m) values (?, ?, ?, 1, 1, 100, ?, 6, ?, 126, 0.6, 0.6, 1.2)",
                    vineyard,
                    UUID.randomUUID(),
                    row,
                    2.0 + n * 2.2,
                    2.0 + n * 2.2);
            run(
                    owner,
                    "insert into task (vineyard_id, id, step, row_id, places, quantity) values (?, ?, 'WEED', ?, '{[1,101)}', 100)",
                    vineyard,
                    tasks[n],
                    row);
        }
        return new FaultVineyard(vineyard, slug, token, tasks);
    }

    static long count(Connection owner, String sql) throws SQLException {
        try (Statement statement = owner.createStatement();
                ResultSet row = statement.executeQuery(sql)) {
            row.next();
            return row.getLong(1);
        }
    }

    private static void run(Connection owner, String sql, Object... values) throws SQLException {
        try (PreparedStatement statement = owner.prepareStatement(sql)) {
            for (int i = 0; i < values.length; i++) {
                statement.setObject(i + 1, values[i]);
            }
            statement.executeUpdate();
        }
    }
}
