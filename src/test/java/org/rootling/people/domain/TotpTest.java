package org.rootling.people.domain;

import static org.assertj.core.api.Assertions.assertThat;

import java.nio.charset.StandardCharsets;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** One-time passwords against the published vectors. */
class TotpTest {

    /** RFC 6238, appendix B, table 1: eight digits, step of 30 seconds from 1970. */
    @ParameterizedTest
    @CsvSource({
        "59, 94287082, 46119246, 90693936",
        "1111111109, 07081804, 68084774, 25091201",
        "1111111111, 14050471, 67062674, 99943326",
        "1234567890, 89005924, 91819424, 93441116",
        "2000000000, 69279037, 90698825, 38618901",
        "20000000000, 65353130, 77737706, 47863826"
    })
    void theVectorsOfRfc6238(long second, String sha1, String sha256, String sha512) {
        long step = Totp.step(second);
        assertThat(Totp.code(seed(20), step, 8, "HmacSHA1")).isEqualTo(sha1);
        assertThat(Totp.code(seed(32), step, 8, "HmacSHA256")).isEqualTo(sha256);
        assertThat(Totp.code(seed(64), step, 8, "HmacSHA512")).isEqualTo(sha512);
    }

    /** RFC 4226, appendix D: six digits for the counters 0 to 9. */
    @Test
    void theVectorsOfRfc4226() {
        String[] codes = {
            "755224", "287082", "359152", "969429", "338314", "254676", "287922", "162583", "399871", "520489"
        };
        for (int counter = 0; counter < codes.length; counter++) {
            assertThat(Totp.code(seed(20), counter)).isEqualTo(codes[counter]);
        }
    }

    /** RFC 4648, section 10, without the padding. */
    @ParameterizedTest
    @CsvSource({"f, MY", "fo, MZXQ", "foo, MZXW6", "foob, MZXW6YQ", "fooba, MZXW6YTB", "foobar, MZXW6YTBOI"})
    void theVectorsOfBase32(String plain, String coded) {
        assertThat(Totp.base32(plain.getBytes(StandardCharsets.US_ASCII))).isEqualTo(coded);
    }

    /** "12345678901234567890…", as long as the hash is (RFC 6238, appendix A). */
    private static byte[] seed(int length) {
        return "1234567890".repeat(7).substring(0, length).getBytes(StandardCharsets.US_ASCII);
    }
}
