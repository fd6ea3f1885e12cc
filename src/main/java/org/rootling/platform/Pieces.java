package org.rootling.platform;

import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.util.Arrays;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * Files kept in the database in pieces of a megabyte, so that no node needs the whole of one in memory: a table with
 * {@code part} and {@code content}, and a column that names what a piece belongs to.
 */
public final class Pieces {

    private static final int PIECE = 1 << 20;

    private final JdbcClient jdbc;
    private final String table;
    private final String of;

    /**
     * @param table the table; never typed by anyone
     * @param of its column with the number of what the file belongs to
     */
    public Pieces(JdbcClient jdbc, String table, String of) {
        this.jdbc = jdbc;
        this.table = table;
        this.of = of;
    }

    /** Keeps all that comes; returns how many bytes that were. */
    public long keep(UUID id, InputStream content) throws IOException {
        byte[] buffer = new byte[PIECE];
        long bytes = 0;
        int part = 0;
        for (int read = content.readNBytes(buffer, 0, PIECE); read > 0; read = content.readNBytes(buffer, 0, PIECE)) {
            jdbc.sql("insert into " + table + " (" + of + ", part, content) values (:id, :part, :content)")
                    .param("id", id)
                    .param("part", part++)
                    .param("content", Arrays.copyOf(buffer, read))
                    .update();
            bytes += read;
        }
        return bytes;
    }

    /** Writes all that was kept. */
    public void write(UUID id, OutputStream out) throws IOException {
        int part = 0;
        for (byte[] content = piece(id, part); content != null; content = piece(id, ++part)) {
            out.write(content);
        }
    }

    private byte @Nullable [] piece(UUID id, int part) {
        return jdbc.sql("select content from " + table + " where vineyard_id = rootling_vineyard() and " + of
                        + " = :id and part = :part")
                .param("id", id)
                .param("part", part)
                .query((row, n) -> Objects.requireNonNull(row.getBytes(1)))
                .optional()
                .orElse(null);
    }

    public void forget(UUID id) {
        jdbc.sql("delete from " + table + " where vineyard_id = rootling_vineyard() and " + of + " = :id")
                .param("id", id)
                .update();
    }
}
