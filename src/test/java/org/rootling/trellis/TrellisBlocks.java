package org.rootling.trellis;

import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.util.UUID;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;

/** Blocks with rows for the trellis tests. */
public final class TrellisBlocks {
    private static final int PLACES = 70;

    private TrellisBlocks() {}

    /** A block with rows of 70 places, 1.2 m apart, 84 m from end post to end post. */
    public static UUID block(TestVineyard vineyard, String code, int rows) {
        UUID block = UUID.randomUUID();
        double wide = 4 + (rows - 1) * 2.2;
        try (Connection owner = TestDatabase.asOwner()) {
            run(
                    owner,
                    """
                    insert into block (vineyard_id, id, code, name, boundary, area_m2, boundary_source, row_spacing_m,
                      vine_spacing_m, headland_m, side_margin_m, end_gap_m, row_count, place_count)
                    values (?, ?, ?, 'South slope', ?, ?, 'TYPED', 2.2, 1.2, 6, 2, 0.6, ?, ?)""",
                    vineyard.id(),
                    block,
                    code,
                    "POLYGON ((0 0, " + wide + " 0, " + wide + " 96, 0 96, 0 0))",
                    wide * 96,
                    rows,
                    rows * PLACES);
            for (int i = 1; i <= rows; i++) {
                UUID row = UUID.randomUUID();
                double x = 2 + (i - 1) * 2.2;
                run(
                        owner,
                        "insert into vine_row (vineyard_id, id, block_id, number, places) values (?, ?, ?, ?, ?)",
                        vineyard.id(),
                        row,
                        block,
                        i,
                        PLACES);
                run(owner, """
                        insert into row_stretch (vineyard_id, id, row_id, segment, first_place, places, start_x, start_y,
                          end_x, end_y, start_gap_m, end_gap_m, vine_spacing_m)
                        values (?, ?, ?, 1, 1, ?, ?, 6, ?, 90, 0.6, 0.6, 1.2)""", vineyard.id(), UUID.randomUUID(), row, PLACES, x, x);
            }
        } catch (SQLException failure) {
            throw new IllegalStateException(failure);
        }
        return block;
    }

    private static void run(Connection connection, String sql, Object... values) throws SQLException {
        try (PreparedStatement statement = connection.prepareStatement(sql)) {
            for (int i = 0; i < values.length; i++) {
                statement.setObject(i + 1, values[i]);
            }
            statement.executeUpdate();
        }
    }
}
