package org.rootling.ground;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;
import static org.quicktheories.generators.SourceDSL.lists;

import java.util.TreeSet;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.rootling.platform.Refused;

/** Naming vines by block, row and places. */
class PlaceRunTest {

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "B2 r7 3-18|B2 r7 3-18",
                "b2 R7 3-5, 6, 9|B2 r7 3-6, 9",
                "B2 r 7  20;18-19|B2 r7 18-20",
                "B2 r7|B2 r7",
                "Oak-3 r1 4\u20136|OAK-3 r1 4-6"
            })
    void isReadAndWrittenInOneForm(String typed, String canonical) {
        assertThat(PlaceRun.parse(typed)).hasToString(canonical);
    }

    @Test
    void exceptionsAreTakenOut() {
        PlaceRun run = PlaceRun.parse("B2 r7 3-18").but("7, 12");
        assertThat(run).hasToString("B2 r7 3-6, 8-11, 13-18");
        assertThat(run.places()).hasSize(14);
    }

    @Test
    void aWholeRowTakesItsCountFromTheRow() {
        assertThat(PlaceRun.parse("B2 r7").but("2").within(5)).hasToString("B2 r7 1, 3-5");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {
                "B2 7 3-18|ground.run.not-understood",
                "B2 r7 three|ground.run.not-understood",
                "B2 r7 18-3|ground.run.backwards",
                "B2 r7 0-3|ground.run.outside",
                "B2 r7 1-9999999|ground.run.outside",
                "B2 r0 1|ground.run.row-zero",
                "<script> r1 1|ground.run.not-understood",
                "r7|ground.run.not-understood"
            })
    void whatIsNoRunIsRefused(String typed, String key) {
        assertThatThrownBy(() -> PlaceRun.parse(typed))
                .isInstanceOfSatisfying(Refused.class, e -> assertThat(e.key()).isEqualTo(key));
    }

    @Test
    void aPlaceOutsideTheRowIsRefused() {
        assertThatThrownBy(() -> PlaceRun.parse("B2 r7 3-18").within(17)).isInstanceOf(Refused.class);
        assertThatThrownBy(() -> PlaceRun.parse("B2 r7 3-18").but("19")).isInstanceOf(Refused.class);
    }

    @Test
    void aMegabyteIsRefusedAtOnce() {
        assertThatThrownBy(() -> PlaceRun.parse("B2 r7 " + "1,".repeat(500_000)))
                .isInstanceOfSatisfying(Refused.class, e -> assertThat(e.key()).isEqualTo("ground.run.too-long"));
    }

    @Test
    void whatIsWrittenIsReadBackTheSame() {
        qt().forAll(lists().of(integers().between(1, 90)).ofSizeBetween(1, 40)).checkAssert(list -> {
            PlaceRun run = PlaceRun.of("A", 3, list);
            assertThat(PlaceRun.parse(run.toString())).isEqualTo(run);
            assertThat(PlaceRun.parse(run.toString()).places()).isEqualTo(new TreeSet<>(list));
        });
    }
}
