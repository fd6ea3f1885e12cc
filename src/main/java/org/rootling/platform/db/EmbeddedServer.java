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
import org.jspecify.annotations.Nullable;
import org.postgresql.ds.PGSimpleDataSource;
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

    private static final Duration LOOK_EVERY = Duration.ofMillis(500);

    private final Path folder;
    private final int port;
    private final ServerSecrets secrets;
    private final FileChannel lockChannel;
    private final FileLock lock;
    private final Thread watch;
    private volatile EmbeddedPostgres server;
    private volatile boolean closed;

    private EmbeddedServer(
            Path folder, EmbeddedPostgres server, ServerSecrets secrets, FileChannel lockChannel, FileLock lock) {
        this.folder = folder;
        this.server = server;
        this.port = server.getPort();
        this.secrets = secrets;
        this.lockChannel = lockChannel;
        this.lock = lock;
        this.watch = new Thread(this::watch, "database-watch");
        this.watch.setDaemon(true);
    }

    /**
     * Starts the server in {@code home/postgres}, making it on the first start.
     *
     * @throws HomeUnusable when another Rootling uses the folder or its data are of another major version
     */
    public static EmbeddedServer start(Path home) {
        return start(home, 0);
    }

    /** The same on a port of choice; 0 takes a free one. */
    static EmbeddedServer start(Path home, int onPort) {
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
                EmbeddedPostgres server = launch(folder, data, secrets, onPort);
                EmbeddedServer started = new EmbeddedServer(folder, server, secrets, channel, lock);
                started.prepare();
                started.watch.start();
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

    /**
     * The owner's way into a server that another Rootling runs in this folder now; null when none does.
     *
     * @throws IOException when one runs but its files cannot be read
     */
    static @Nullable PGSimpleDataSource runningIn(Path home) throws IOException {
        Path folder = home.resolve("postgres");
        Path lockFile = folder.resolve("in-use.lock");
        if (!Files.exists(lockFile)) {
            return null;
        }
        try (FileChannel channel = FileChannel.open(lockFile, StandardOpenOption.WRITE)) {
            FileLock free = tryLock(channel);
            if (free != null) {
                free.release();
                return null;
            }
        }
        List<String> lines = Files.readAllLines(folder.resolve("data/postmaster.pid"));
        return owner("jdbc:postgresql://127.0.0.1:" + lines.get(3).trim() + "/" + DATABASE, ServerSecrets.in(folder));
    }

    private static PGSimpleDataSource owner(String url, ServerSecrets secrets) {
        PGSimpleDataSource source = new PGSimpleDataSource();
        source.setUrl(url);
        source.setUser(OWNER);
        source.setPassword(secrets.owner());
        return source;
    }

    /** The schema's owner's way in. */
    PGSimpleDataSource owner() {
        return owner(url(DATABASE), secrets);
    }

    /** Starts the server again when it was killed or fell over; it recovers from its log, on the same port. */
    private void watch() {
        Path data = folder.resolve("data");
        while (!closed) {
            try {
                Thread.sleep(LOOK_EVERY.toMillis());
                if (!closed && !isRunning(data)) {
                    LOG.warn("The database was ended from outside; starting it again");
                    again(data);
                    LOG.info("The database runs again");
                }
            } catch (InterruptedException stopping) {
                Thread.currentThread().interrupt();
                return;
            } catch (IOException | RuntimeException failure) {
                LOG.warn("The database could not be started again yet: {}", failure.getMessage());
            }
        }
    }

    private synchronized void again(Path data) throws IOException {
        if (!closed) {
            server.close();
            stopOrphan(data);
            server = launch(folder, data, secrets, port);
        }
    }

    private static boolean isRunning(Path data) throws IOException {
        Path pidFile = data.resolve("postmaster.pid");
        if (!Files.exists(pidFile)) {
            return false;
        }
        List<String> lines = Files.readAllLines(pidFile);
        return !lines.isEmpty()
                && ProcessHandle.of(Long.parseLong(lines.get(0).trim()))
                        .filter(ProcessHandle::isAlive)
                        .filter(EmbeddedServer::isPostgres)
                        .isPresent();
    }

    private static EmbeddedPostgres launch(Path folder, Path data, ServerSecrets secrets, int port) throws IOException {
        EmbeddedPostgres.Builder builder = EmbeddedPostgres.builder()
                .setDataDirectory(data)
                .setCleanDataDirectory(false)
                .setRegisterShutdownHook(false)
                .setOverrideWorkingDirectory(
                        OwnerOnly.directory(folder.resolve("binaries")).toFile())
                .setPGStartupWait(Duration.ofSeconds(60))
                .setPort(port)
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
        return "jdbc:postgresql://127.0.0.1:" + port + "/" + database;
    }

    String ownerPassword() {
        return secrets.owner();
    }

    String appPassword() {
        return secrets.app();
    }

    @Override
    public synchronized void close() throws IOException {
        closed = true;
        watch.interrupt();
        try {
            server.close();
        } finally {
            if (lock.isValid()) {
                lock.release();
            }
            lockChannel.close();
        }
    }

    private static @Nullable FileLock tryLock(FileChannel channel) throws IOException {
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
        Optional<ProcessHandle> known = lines.isEmpty()
                ? Optional.empty()
                : ProcessHandle.of(Long.parseLong(lines.get(0).trim())).filter(ProcessHandle::isAlive);
        if (known.isEmpty()) {
            // Left to PostgreSQL: by this file it sees whether processes of the dead server are still at the data.
            return;
        }
        Optional<ProcessHandle> orphan = known.filter(EmbeddedServer::isPostgres);
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
