package org.rootling.platform.db;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Comparator;
import java.util.stream.Stream;

/** Lets the tests start the application's own embedded server and look into it. */
public final class TestServer {

    private final EmbeddedServer server;

    private TestServer(EmbeddedServer server) {
        this.server = server;
    }

    public static TestServer start(Path home) {
        return new TestServer(EmbeddedServer.start(home));
    }

    public String url() {
        return server.url(EmbeddedServer.DATABASE);
    }

    public String ownerPassword() {
        return server.ownerPassword();
    }

    public String appPassword() {
        return server.appPassword();
    }

    public void stop() {
        try {
            server.close();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    public void delete(Path home) {
        try (Stream<Path> files = Files.walk(home)) {
            files.sorted(Comparator.reverseOrder())
                    .forEach(file -> file.toFile().delete());
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }
}
