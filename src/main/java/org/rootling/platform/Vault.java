package org.rootling.platform;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.FileAlreadyExistsException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.GeneralSecurityException;
import java.security.SecureRandom;
import java.util.Arrays;
import java.util.Base64;
import java.util.List;
import javax.crypto.Cipher;
import javax.crypto.spec.GCMParameterSpec;
import javax.crypto.spec.SecretKeySpec;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.db.OwnerOnly;
import org.springframework.core.env.Environment;
import org.springframework.stereotype.Component;

/**
 * Encrypts the few secrets that must be read again (AES-256-GCM), with a key that is not in the database: the setting
 * {@code rootling.secret-key} (32 bytes in Base64, the same on every node), or without it a random one in a file of
 * {@code rootling.home} that only its owner can read. Several keys, the newest first, open what any of them locked; only
 * the newest locks.
 */
@Component
public class Vault {

    private static final int NONCE = 12;
    private static final int TAG_BITS = 128;
    private static final SecureRandom RANDOM = new SecureRandom();

    private final Environment environment;
    private volatile @Nullable List<SecretKeySpec> keys;

    Vault(Environment environment) {
        this.environment = environment;
    }

    /** Locks bytes up; {@code belongsTo} must be named again to open them, so that they cannot be moved elsewhere. */
    public byte[] lock(byte[] plain, String belongsTo) {
        byte[] nonce = new byte[NONCE];
        RANDOM.nextBytes(nonce);
        byte[] locked = Arrays.copyOf(nonce, NONCE + plain.length + TAG_BITS / 8);
        byte[] body;
        try {
            body = run(keys().get(0), Cipher.ENCRYPT_MODE, nonce, plain, belongsTo);
        } catch (GeneralSecurityException failure) {
            throw new IllegalStateException("a secret cannot be locked up", failure);
        }
        System.arraycopy(body, 0, locked, NONCE, body.length);
        return locked;
    }

    /** Opens what {@link #lock} made; fails for another key or owner, and for changed bytes. */
    public byte[] open(byte[] locked, String belongsTo) {
        if (locked.length < NONCE + TAG_BITS / 8) {
            throw new IllegalStateException("too short for a secret of ours");
        }
        byte[] nonce = Arrays.copyOf(locked, NONCE);
        byte[] body = Arrays.copyOfRange(locked, NONCE, locked.length);
        GeneralSecurityException last = null;
        for (SecretKeySpec key : keys()) {
            try {
                return run(key, Cipher.DECRYPT_MODE, nonce, body, belongsTo);
            } catch (GeneralSecurityException otherKey) {
                last = otherKey;
            }
        }
        throw new IllegalStateException("a secret cannot be opened with this key", last);
    }

    private static byte[] run(SecretKeySpec key, int mode, byte[] nonce, byte[] text, String belongsTo)
            throws GeneralSecurityException {
        Cipher cipher = Cipher.getInstance("AES/GCM/NoPadding");
        cipher.init(mode, key, new GCMParameterSpec(TAG_BITS, nonce));
        cipher.updateAAD(belongsTo.getBytes(StandardCharsets.UTF_8));
        return cipher.doFinal(text);
    }

    private List<SecretKeySpec> keys() {
        List<SecretKeySpec> known = keys;
        if (known == null) {
            String set = environment.getProperty("rootling.secret-key", "");
            known = Arrays.stream((set.isBlank() ? fromFile() : set).strip().split("[,\\s]+"))
                    .map(Vault::key)
                    .toList();
            keys = known;
        }
        return known;
    }

    private static SecretKeySpec key(String text) {
        byte[] bytes = Base64.getDecoder().decode(text);
        if (bytes.length != 32) {
            throw new IllegalStateException("rootling.secret-key must be 32 bytes in Base64");
        }
        return new SecretKeySpec(bytes, "AES");
    }

    private String fromFile() {
        Path home = Path.of(environment.getRequiredProperty("rootling.home"))
                .toAbsolutePath()
                .normalize();
        Path file = home.resolve("secret.key");
        try {
            OwnerOnly.directory(home);
            if (!Files.exists(file)) {
                byte[] fresh = new byte[32];
                RANDOM.nextBytes(fresh);
                OwnerOnly.writeNew(file, Base64.getEncoder().encodeToString(fresh));
            }
            return Files.readString(file).strip();
        } catch (FileAlreadyExistsException another) {
            return fromFile();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }
}
