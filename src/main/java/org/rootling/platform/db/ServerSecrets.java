package org.rootling.platform.db;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.Base64;
import java.util.List;

/** Random passwords of the embedded server's three roles, kept in files only their owner can read. */
final class ServerSecrets {

    private final Path superuserFile;
    private final String superuser;
    private final String owner;
    private final String app;

    private ServerSecrets(Path superuserFile, String superuser, String owner, String app) {
        this.superuserFile = superuserFile;
        this.superuser = superuser;
        this.owner = owner;
        this.app = app;
    }

    static ServerSecrets in(Path folder) throws IOException {
        Path superuserFile = folder.resolve("superuser.password");
        return new ServerSecrets(
                superuserFile,
                secret(superuserFile),
                secret(folder.resolve("owner.password")),
                secret(folder.resolve("app.password")));
    }

    private static String secret(Path file) throws IOException {
        if (!Files.exists(file)) {
            byte[] bytes = new byte[24];
            new SecureRandom().nextBytes(bytes);
            OwnerOnly.write(file, Base64.getUrlEncoder().withoutPadding().encodeToString(bytes));
        }
        List<String> lines = Files.readAllLines(file);
        return lines.get(0);
    }

    Path superuserFile() {
        return superuserFile;
    }

    String superuser() {
        return superuser;
    }

    String owner() {
        return owner;
    }

    String app() {
        return app;
    }
}
