package org.rootling.platform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Base64;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;
import org.springframework.mock.env.MockEnvironment;

/** Secrets are opened with the key they were locked with, also after another was put before it, and with no other. */
class VaultTest {

    private static final String OLD = key(1);
    private static final String NEW = key(2);
    private static final byte[] SECRET = {1, 2, 3};

    @TempDir
    Path home;

    @Test
    void aNewKeyIsPutBeforeTheOldWhichOpensUntilItIsTakenAway() {
        byte[] locked = vault(OLD).lock(SECRET, "one");
        Vault both = vault(NEW + "," + OLD);
        assertThat(both.open(locked, "one")).isEqualTo(SECRET);
        byte[] anew = both.lock(SECRET, "one");
        assertThat(vault(NEW).open(anew, "one")).isEqualTo(SECRET);
        assertThatThrownBy(() -> vault(NEW).open(locked, "one")).isInstanceOf(IllegalStateException.class);
        assertThatThrownBy(() -> vault(OLD).open(anew, "one")).isInstanceOf(IllegalStateException.class);
    }

    @Test
    void theKeysOfAFileStandInLines() throws Exception {
        byte[] locked = vault("").lock(SECRET, "one");
        Path file = home.resolve("secret.key");
        Files.writeString(file, NEW + "\n" + Files.readString(file) + "\n");
        assertThat(vault("").open(locked, "one")).isEqualTo(SECRET);
        assertThat(vault(NEW).open(vault("").lock(SECRET, "one"), "one")).isEqualTo(SECRET);
    }

    @Test
    void whatIsChangedCutOrMovedIsNotOpened() {
        Vault vault = vault(OLD);
        byte[] locked = vault.lock(SECRET, "one");
        assertThatThrownBy(() -> vault.open(locked, "another")).isInstanceOf(IllegalStateException.class);
        for (int length = 0; length < locked.length; length++) {
            byte[] cut = Arrays.copyOf(locked, length);
            assertThatThrownBy(() -> vault.open(cut, "one")).isInstanceOf(IllegalStateException.class);
        }
        for (int i = 0; i < locked.length; i++) {
            byte[] changed = locked.clone();
            changed[i] ^= 1;
            assertThatThrownBy(() -> vault.open(changed, "one")).isInstanceOf(IllegalStateException.class);
        }
    }

    @Test
    void aKeyOfAnotherLengthIsRefused() {
        assertThatThrownBy(() -> vault("c2hvcnQ=").lock(SECRET, "one")).hasMessageContaining("32 bytes in Base64");
    }

    private Vault vault(String keys) {
        return new Vault(new MockEnvironment()
                .withProperty("rootling.secret-key", keys)
                .withProperty("rootling.home", home.toString()));
    }

    private static String key(int of) {
        byte[] bytes = new byte[32];
        Arrays.fill(bytes, (byte) of);
        return Base64.getEncoder().encodeToString(bytes);
    }
}
