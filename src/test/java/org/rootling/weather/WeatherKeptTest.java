package org.rootling.weather;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.LocalDate;
import java.util.List;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.weather.WeatherBook.Day;
import org.rootling.weather.calc.WeatherDay;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.transaction.support.TransactionOperations;

/** The days that projections rest on are kept in memory, and never longer than they are true. */
@AppTest
class WeatherKeptTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Weather weather;

    @Autowired
    WeatherBook book;

    @Autowired
    Vineyards days;

    @Autowired
    TransactionOperations transactions;

    TestVineyard vineyard;
    LocalDate today;

    @BeforeEach
    void record() {
        vineyard = vineyards.fresh();
        today = vineyard.inside(() -> days.today());
        take(vineyard, new Day(today.minusDays(2), 4, 12, 0), new Day(today.minusDays(1), 5, 13, 2));
    }

    private void take(TestVineyard of, Day... taken) {
        of.run(() -> book.take(List.of(taken)));
    }

    private List<WeatherDay> around(TestVineyard of, LocalDate on) {
        return of.inside(() -> weather.around(on));
    }

    @Test
    void nothingIsReadAgainWhileNothingChanges() {
        assertThat(around(vineyard, today)).isSameAs(around(vineyard, today)).hasSize(2);
    }

    @Test
    void whatIsAddedCorrectedOrWithdrawnShowsAtOnce() {
        around(vineyard, today);
        take(vineyard, new Day(today, 6, 14, 0));
        assertThat(around(vineyard, today)).hasSize(3);
        take(vineyard, new Day(today, 6, 20, 0));
        assertThat(around(vineyard, today).get(2).highC()).isEqualTo(20);
        var form = vineyard.as(Role.LEAD).open("/weather/day?date=" + today);
        String version = form.page().select("input[name=version]").val();
        vineyard.as(Role.LEAD).send("/weather/day/withdraw", "date", today.toString(), "version", version);
        assertThat(around(vineyard, today)).hasSize(2);
    }

    @Test
    void whoeverChangesDaysSeesThemAndNobodyElseBeforeTheyAreCertain() {
        around(vineyard, today);
        assertThatThrownBy(() -> vineyard.run(() -> transactions.executeWithoutResult(status -> {
                    book.take(List.of(new Day(today, 6, 14, 0)));
                    assertThat(weather.around(today)).hasSize(3);
                    book.take(List.of(new Day(today.minusDays(3), 6, 14, 0)));
                    assertThat(weather.around(today)).hasSize(4);
                    assertThat(elsewhere()).hasSize(2);
                    throw new IllegalStateException("thought better of it");
                })))
                .hasMessage("thought better of it");
        assertThat(around(vineyard, today)).hasSize(2);
    }

    /** What another connection sees, which knows nothing of a transaction that is not over. */
    private List<WeatherDay> elsewhere() {
        ExecutorService other = Executors.newSingleThreadExecutor();
        try {
            return other.submit(() -> around(vineyard, today)).get(30, TimeUnit.SECONDS);
        } catch (InterruptedException | ExecutionException | TimeoutException late) {
            throw new IllegalStateException(late);
        } finally {
            other.shutdown();
        }
    }

    @Test
    void anotherDayAndAnotherVineyardHaveTheirOwn() {
        TestVineyard other = vineyards.fresh();
        take(other, new Day(today.minusDays(1), -3, 1, 9));
        assertThat(around(vineyard, today).get(1).lowC()).isEqualTo(5);
        assertThat(around(other, today)).hasSize(1);
        assertThat(around(other, today).get(0).lowC()).isEqualTo(-3);
        assertThat(around(vineyard, today)).hasSize(2);
        assertThat(around(vineyard, today.minusYears(11))).isEmpty();
        assertThat(around(vineyard, today)).hasSize(2);
    }
}
