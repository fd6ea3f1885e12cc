package org.rootling.platform.db;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.Statement;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** The application's process is killed (SIGKILL) in the middle of writes. */
class KilledInTheMiddleTest {

    @TempDir
    Path home;

    @Test
    void nothingAcknowledgedIsLostOnTheNextStart() throws Exception {
        int next = 0;
        for (int round = 0; round < 2; round++) {
            next = writeAndKill(next, 300) + 1000;
            try (EmbeddedServer server = EmbeddedServer.start(home);
                    Connection connection = server.superuser(EmbeddedServer.DATABASE);
                    Statement statement = connection.createStatement()) {
                int last = next - 1000;
                int first = round == 0 ? 0 : last;
                while (round > 0 && first > 0 && exists(statement, first - 1)) {
                    first--;
                }
                try (ResultSet count = statement.executeQuery(
                        "select count(*) from acknowledged where n between " + first + " and " + last)) {
                    count.next();
                    assertThat(count.getInt(1)).isEqualTo(last - first + 1).isGreaterThanOrEqualTo(300);
                }
            }
        }
    }

    private static boolean exists(Statement statement, int n) throws Exception {
        try (ResultSet row = statement.executeQuery("select 1 from acknowledged where n = " + n)) {
            return row.next();
        }
    }

    /** Starts a writer, kills it after some acknowledged writes, and returns the last one acknowledged. */
    private int writeAndKill(int from, int writes) throws IOException, InterruptedException {
        Path printed = home.resolve("printed-" + from);
        Process writer = new ProcessBuilder(
                        ProcessHandle.current().info().command().orElse("java"),
                        "-cp",
                        System.getProperty("surefire.test.class.path", System.getProperty("java.class.path")),
                        KilledWriter.class.getName(),
                        home.toString(),
                        Integer.toString(from))
                .redirectError(ProcessBuilder.Redirect.DISCARD)
                .redirectOutput(printed.toFile())
                .start();
        try {
            for (int waited = 0; stored(printed).size() < writes && waited < 600; waited++) {
                assertThat(writer.isAlive()).isTrue();
                Thread.sleep(100);
            }
        } finally {
            writer.destroyForcibly();
            writer.waitFor();
        }
        List<Integer> stored = stored(printed);
        assertThat(stored).hasSizeGreaterThanOrEqualTo(writes);
        return stored.get(stored.size() - 1);
    }

    /** The numbers whose whole line was printed. */
    private static List<Integer> stored(Path printed) throws IOException {
        String text = Files.readString(printed);
        String whole = text.substring(0, text.lastIndexOf('\n') + 1);
        return whole.lines()
                .filter(line -> line.startsWith("stored "))
                .map(line -> Integer.valueOf(line.substring(7)))
                .toList();
    }
}
