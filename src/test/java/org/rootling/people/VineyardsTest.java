package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;
import static org.mockito.Mockito.CALLS_REAL_METHODS;
import static org.mockito.Mockito.doReturn;
import static org.mockito.Mockito.mock;

import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Somebody says a day and no time. */
class VineyardsTest {

    private static final ZoneId ZONE = ZoneId.of("Europe/Paris");

    private static Vineyards at(Instant now) {
        Vineyard here = mock(Vineyard.class);
        doReturn(ZONE).when(here).zone();
        Vineyards vineyards = mock(Vineyards.class, CALLS_REAL_METHODS);
        doReturn(here).when(vineyards).current();
        doReturn(now).when(vineyards).now();
        return vineyards;
    }

    @ParameterizedTest
    @ValueSource(
            strings = {"2027-04-05T22:00:01Z", "2027-04-06T05:30:00Z", "2027-04-06T10:00:00Z", "2027-04-06T21:59:59Z"})
    void todayIsNeverAheadWhateverTheHour(String now) {
        assertThat(at(Instant.parse(now)).during(LocalDate.of(2027, 4, 6))).isEqualTo(now);
    }

    @Test
    void anotherDayIsItsNoon() {
        assertThat(at(Instant.parse("2027-04-06T05:30:00Z")).during(LocalDate.of(2027, 4, 5)))
                .isEqualTo("2027-04-05T10:00:00Z");
    }
}
