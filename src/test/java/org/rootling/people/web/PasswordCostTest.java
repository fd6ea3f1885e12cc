package org.rootling.people.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.springframework.mock.env.MockEnvironment;
import org.springframework.security.crypto.password.PasswordEncoder;

/**
 * What a guess at a password costs. Source: OWASP, Password Storage Cheat Sheet: PBKDF2-HMAC-SHA512 with 210,000 rounds or
 * more.
 */
class PasswordCostTest {

    private final SecurityConfig config = new SecurityConfig();

    @Test
    void aRealServerTakesNoFewerRoundsThanIsAdvised() {
        assertThatThrownBy(() -> config.passwordEncoder(with("209999"))).isInstanceOf(IllegalStateException.class);
        assertThat(config.passwordEncoder(new MockEnvironment()).encode("quiet rows"))
                .startsWith("{pbkdf2-512}");
        assertThat(config.passwordEncoder(with("210000")).encode("quiet rows")).startsWith("{pbkdf2-512-210000}");
    }

    @Test
    void passwordsKeptBeforeTheRoundsWereRaisedGoOnWorking() {
        PasswordEncoder raised = config.passwordEncoder(with("300000"));
        for (String rounds : new String[] {"220000", "250000"}) {
            String before = config.passwordEncoder(with(rounds)).encode("quiet rows");

            assertThat(raised.matches("quiet rows", before)).as(rounds).isTrue();
            assertThat(raised.matches("quiet row", before)).as(rounds).isFalse();
            assertThat(raised.upgradeEncoding(before)).as(rounds).isTrue();
        }
        assertThat(raised.matches("quiet rows", "none")).isFalse();
        assertThat(raised.upgradeEncoding("none")).isFalse();
    }

    @Test
    void aHashIsTheOneOfAnotherImplementation() throws Exception {
        String kept = config.passwordEncoder(new MockEnvironment()).encode("quiet rows");
        byte[] bytes = java.util.HexFormat.of().parseHex(kept.substring("{pbkdf2-512}".length()));
        byte[] salt = java.util.Arrays.copyOf(bytes, 16);

        byte[] again = javax.crypto.SecretKeyFactory.getInstance("PBKDF2WithHmacSHA512")
                .generateSecret(new javax.crypto.spec.PBEKeySpec(
                        "quiet rows".toCharArray(), salt, 220_000, (bytes.length - 16) * 8))
                .getEncoded();

        assertThat(again).isEqualTo(java.util.Arrays.copyOfRange(bytes, 16, bytes.length));
    }

    private static MockEnvironment with(String rounds) {
        return new MockEnvironment().withProperty("rootling.password-rounds", rounds);
    }
}
