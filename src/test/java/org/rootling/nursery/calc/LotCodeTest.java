package org.rootling.nursery.calc;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.HashSet;
import java.util.Set;
import org.junit.jupiter.api.Test;

class LotCodeTest {

    @Test
    void theFirstLotsOfAYearHaveOneLetter() {
        assertThat(LotCode.of(2027, 1)).isEqualTo("27-A");
        assertThat(LotCode.of(2027, 2)).isEqualTo("27-C");
        assertThat(LotCode.of(2027, 18)).isEqualTo("27-Y");
        assertThat(LotCode.of(2027, 19)).isEqualTo("27-AA");
    }

    @Test
    void noTwoLotsOfAYearShareACode() {
        Set<String> codes = new HashSet<>();
        for (int n = 1; n <= 10_000; n++) {
            assertThat(codes.add(LotCode.of(2027, n))).isTrue();
        }
    }

    @Test
    void noLetterPassesForADigit() {
        for (int n = 1; n <= 10_000; n++) {
            assertThat(LotCode.of(2030, n)).matches("30-[A-Z]{1,4}").doesNotContainPattern("[BGIOQSVZ]");
        }
    }
}
