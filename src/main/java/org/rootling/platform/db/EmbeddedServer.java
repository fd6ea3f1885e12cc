package org.rootling.platform.db;

import io.zonky.test.db.postgres.embedded.EmbeddedPostgres;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.channels.FileChannel;
import java.nio.channels.FileLock;
import java.nio.channels.OverlappingFileLockException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardOpenOption;
import java.sql.Connection;
import java.sql.DriverManager;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.Duration;
import java.util.List;
import java.util.Optional;
import java.util.concurrent.TimeUnit;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;

/**
 * A real PostgreSQL server kept in the application's own folder, safe to keep data in: written through to disk, on
 * loopback only, password authentication with random passwords in a file only its owner can read, one application at a
 * time, stopped cleanly, and recovered after the application was killed.
 */
public final class EmbeddedServer implements AutoCloseable {

    /** The major version whose data this build can read. */
    static final String MAJOR = "18";

    static final String OWNER = "rootling_owner";
    static final String APP = "rootling_app";
    static final String DATABASE = "rootling";

    private static final Logger LOG = LoggerFactory.getLogger(EmbeddedServer.class);

    private final EmbeddedPostgres server;
    private final ServerSecrets secrets;
    private final FileChannel lockChannel;
    private final FileLock lock;

    private EmbeddedServer(EmbeddedPostgres server, ServerSecrets secrets, FileChannel lockChannel, FileLock lock) {
        this.server = server;
        this.secrets = secrets;
        this.lockChannel = lockChannel;
        this.lock = lock;
    }

    /**
     * Starts the server in {@code home/postgres}, making it on the first start.
     *
     * @throws HomeUnusable when another Rootling uses the folder or its data are of another major version
     */
    public static EmbeddedServer start(Path home) {
        try {
            Path folder = OwnerOnly.directory(home.toAbsolutePath().normalize().resolve("postgres"));
            FileChannel channel = FileChannel.open(
                    folder.resolve("in-use.lock"), StandardOpenOption.CREATE, StandardOpenOption.WRITE);
            FileLock lock = tryLock(channel);
            if (lock == null) {
                channel.close();
                throw new HomeUnusable("The folder " + home + " is in use by another running Rootling. "
                        + "Stop it first, or choose another folder with --rootling.home=DIR.");
            }
            try {
                Path data = folder.resolve("data");
                refuseOtherMajor(data);
                stopOrphan(data);
                ServerSecrets secrets = ServerSecrets.in(folder);
                EmbeddedPostgres server = launch(folder, data, secrets);
                EmbeddedServer started = new EmbeddedServer(server, secrets, channel, lock);
                started.prepare();
                return started;
            } catch (IOException | RuntimeException failure) {
                lock.release();
                channel.close();
                throw failure;
            }
        } catch (IOException failure) {
            throw new UncheckedIOException("The database in " + home + " could not be started", failure);
        }
    }

    private static EmbeddedPostgres launch(Path folder, Path data, ServerSecrets secrets) throws IOException {
        EmbeddedPostgres.Builder builder = EmbeddedPostgres.builder()
                .setDataDirectory(data)
                .setCleanDataDirectory(false)
                .setRegisterShutdownHook(false)
                .setOverrideWorkingDirectory(
                        OwnerOnly.directory(folder.resolve("binaries")).toFile())
                .setPGStartupWait(Duration.ofSeconds(60))
                // These options of initdb come after the library's own "-A trust" and override it.
                .setLocaleConfig("auth", "scram-sha-256")
                .setLocaleConfig("pwfile", secrets.superuserFile().toString())
                .setLocaleConfig("locale", "C.UTF-8")
                .setConnectConfig("password", secrets.superuser())
                // The library starts the server with -F (no fsync) and relaxed commits; these win over it.
                .setServerConfig("fsync", "on")
                .setServerConfig("full_page_writes", "on")
                .setServerConfig("synchronous_commit", "on")
                .setServerConfig("password_encryption", "scram-sha-256")
                .setServerConfig("listen_addresses", "127.0.0.1")
                .setServerConfig("max_connections", "60")
                .setServerConfig("shared_buffers", "64MB");
        if (!System.getProperty("os.name").startsWith("Windows")) {
            builder.setServerConfig("unix_socket_directories", "");
        }
        return builder.start();
    }

    /** Roles and database, made on the first start and left alone afterwards. */
    private void prepare() throws IOException {
        try (Connection connection = superuser("postgres");
                Statement statement = connection.createStatement()) {
            DatabaseRoles.ensure(statement, DATABASE, OWNER, secrets.owner(), APP, secrets.app());
        } catch (SQLException failure) {
            close();
            throw new IOException("The database's roles could not be prepared", failure);
        }
    }

    /** A connection as the server's superuser; for backup, repair and tests. */
    Connection superuser(String database) throws SQLException {
        return DriverManager.getConnection(url(database), "postgres", secrets.superuser());
    }

    /** The JDBC address of a database of this server. */
    String url(String database) {
        return "jdbc:postgresql://127.0.0.1:" + server.getPort() + "/" + database;
    }

    String ownerPassword() {
        return secrets.owner();
    }

    String appPassword() {
        return secrets.app();
    }

    @Override
    public void close() throws IOException {
        try {
            server.close();
        } finally {
            if (lock.isValid()) {
                lock.release();
            }
            lockChannel.close();
        }
    }

    private static @org.jspecify.annotations.Nullable FileLock tryLock(FileChannel channel) throws IOException {
        try {
            return channel.tryLock();
        } catch (OverlappingFileLockException inThisProcess) {
            return null;
        }
    }

    private static void refuseOtherMajor(Path data) throws IOException {
        Path version = data.resolve("PG_VERSION");
        if (Files.exists(version)) {
            String found = Files.readString(version).trim();
            if (!found.equals(MAJOR)) {
                throw new HomeUnusable("The data in " + data + " were written by PostgreSQL " + found
                        + "; this Rootling brings PostgreSQL " + MAJOR
                        + ". Start the earlier Rootling, make a backup, and restore it into a new folder.");
            }
        }
    }

    /**
     * A killed application leaves its server running. We hold the folder's lock, so whoever started that server is gone:
     * stop it, and let the next start recover from its log.
     */
    private static void stopOrphan(Path data) throws IOException {
        Path pidFile = data.resolve("postmaster.pid");
        if (!Files.exists(pidFile)) {
            return;
        }
        List<String> lines = Files.readAllLines(pidFile);
        Optional<ProcessHandle> orphan = lines.isEmpty()
                ? Optional.empty()
                : ProcessHandle.of(Long.parseLong(lines.get(0).trim())).filter(EmbeddedServer::isPostgres);
        if (orphan.isPresent()) {
            LOG.warn("Found the database of a Rootling that was killed; stopping it before starting again");
            orphan.get().destroy();
            try {
                orphan.get().onExit().get(20, TimeUnit.SECONDS);
            } catch (InterruptedException interrupted) {
                Thread.currentThread().interrupt();
                throw new IOException("interrupted while stopping the old database", interrupted);
            } catch (java.util.concurrent.ExecutionException | java.util.concurrent.TimeoutException slow) {
                LOG.warn("It did not stop by itself; ending it, its log will be replayed");
                orphan.get().descendants().forEach(ProcessHandle::destroyForcibly);
                orphan.get().destroyForcibly();
                orphan.get().onExit().join();
            }
        }
        Files.deleteIfExists(pidFile);
    }

    private static boolean isPostgres(ProcessHandle process) {
        return process.info().command().map(c -> c.contains("postgres")).orElse(false);
    }
}
