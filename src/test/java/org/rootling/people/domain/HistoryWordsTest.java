package org.rootling.people.domain;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/** What the history writes for values that people would not write so. */
class HistoryWordsTest {

    @ParameterizedTest
    @CsvSource(
            delimiter = ';',
            value = {
                "{[1,19),[20,21)};1-18, 20",
                "{[7,8)};7",
                "{};–",
                "Bacchus;Bacchus",
                "[1,19);[1,19)",
                "{[1,19)} and more;{[1,19)} and more"
            })
    void places_are_written_as_runs_and_all_else_as_it_is(String kept, String written) {
        assertThat(History.places(kept)).isEqualTo(written);
    }
}
