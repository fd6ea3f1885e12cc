package org.rootling.platform.db;

import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.Statement;

/** Writes numbers as fast as it can and prints each after its commit; a test kills it in the middle. */
final class KilledWriter {

    private KilledWriter() {}

    public static void main(String[] args) throws Exception {
        @SuppressWarnings("resource") // never closed: it is killed
        EmbeddedServer server = EmbeddedServer.start(Path.of(args[0]));
        try (Connection connection = server.superuser(EmbeddedServer.DATABASE)) {
            try (Statement statement = connection.createStatement()) {
                statement.execute("create table if not exists acknowledged (n int primary key)");
            }
            try (PreparedStatement insert = connection.prepareStatement("insert into acknowledged values (?)")) {
                for (int n = Integer.parseInt(args[1]); ; n++) {
                    insert.setInt(1, n);
                    insert.executeUpdate();
                    System.out.println("stored " + n);
                    System.out.flush();
                }
            }
        }
    }
}
