package org.rootling.platform.db;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.StandardCopyOption;
import java.nio.file.attribute.FileAttribute;
import java.nio.file.attribute.PosixFilePermissions;

/** Files and folders that only their owner can read, where the file system knows owners. */
public final class OwnerOnly {

    private OwnerOnly() {}

    /** Makes the folder if it is missing, readable by its owner only. */
    public static Path directory(Path path) throws IOException {
        if (!Files.isDirectory(path)) {
            if (path.getParent() != null) {
                Files.createDirectories(path.getParent());
            }
            Files.createDirectory(path, attributes(path, "rwx------"));
        }
        return path;
    }

    /** Writes a whole file, never half of it, readable by its owner only. */
    public static void write(Path path, String text) throws IOException {
        Path part = path.resolveSibling(path.getFileName() + ".part");
        Files.deleteIfExists(part);
        Files.createFile(part, attributes(part, "rw-------"));
        Files.writeString(part, text);
        Files.move(part, path, StandardCopyOption.REPLACE_EXISTING, StandardCopyOption.ATOMIC_MOVE);
    }

    /** Makes a file that must not be there yet, readable by its owner only. */
    public static void writeNew(Path path, String text) throws IOException {
        Path part = path.resolveSibling(path.getFileName() + "." + java.util.UUID.randomUUID() + ".part");
        Files.createFile(part, attributes(part, "rw-------"));
        try {
            Files.writeString(part, text);
            // A link appears whole or not at all, and never in place of another.
            Files.createLink(path, part);
        } finally {
            Files.deleteIfExists(part);
        }
    }

    private static FileAttribute<?>[] attributes(Path path, String permissions) throws IOException {
        Path existing = path;
        while (existing != null && !Files.exists(existing)) {
            existing = existing.getParent();
        }
        boolean posix = existing != null && Files.getFileStore(existing).supportsFileAttributeView("posix");
        return posix
                ? new FileAttribute<?>[] {
                    PosixFilePermissions.asFileAttribute(PosixFilePermissions.fromString(permissions))
                }
                : new FileAttribute<?>[0];
    }
}
