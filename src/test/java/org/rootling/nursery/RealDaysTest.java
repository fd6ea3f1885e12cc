package org.rootling.nursery;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.support.WeatherFiles;
import org.rootling.support.WeatherFiles.Line;
import org.rootling.weather.domain.SeasonService;
import org.rootling.weather.domain.SeasonService.Figures;
import org.springframework.beans.factory.annotation.Autowired;

/**
 * Four years of real days (NOAA, Seattle 2012 to 2015) through the import page into the sums and the hold clock, against
 * sums made from the file itself without the program's code.
 */
@AppTest
class RealDaysTest {

    /** Base and sum of shared/reference/store-limits.csv for a bed outdoors. */
    private static final double BASE = 5;

    private static final double SUM = 105;

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    @Autowired
    SeasonService seasons;

    TestVineyard vineyard;
    List<Line> file;

    @BeforeEach
    void importFourYears() throws IOException {
        vineyard = vineyards.fresh();
        file = WeatherFiles.seattleLines();
        assertThat(WeatherFiles.importFile(vineyard.as(Role.LEAD), WeatherFiles.seattle())
                        .page()
                        .text())
                .contains("1,461 days added");
    }

    private Lot heeledIn(LocalDate since) {
        return vineyard.inside(() -> {
            Lot lot = TestStock.lot(stock, 100, since);
            stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 100, since);
            return lot;
        });
    }

    private Hold read(Lot lot, LocalDate on) {
        return vineyard.inside(() -> lots.holds(lot.id(), on)).get(0);
    }

    private double sumFrom(LocalDate since, LocalDate on) {
        return file.stream()
                .filter(l -> !l.date().isBefore(since) && l.date().isBefore(on))
                .mapToDouble(l -> l.degreeDays(BASE))
                .sum();
    }

    private LocalDate crossing(LocalDate since) {
        LocalDate day = since;
        while (sumFrom(since, day) < SUM) {
            day = day.plusDays(1);
        }
        return day;
    }

    private static Allowance of(Hold hold, String kind) {
        @Nullable Allowance allowance = hold.allowance(kind);
        assertThat(allowance).isNotNull();
        return allowance;
    }

    /**
     * By hand from the file: 12 to 18 March 2015 bring 8.60 + 7.50 + 6.65 + 3.35 + 5.00 + 3.85 + 6.40 = 41.35 degree days
     * over 5 °C; the sum stands at 104.40 after the 28th and 111.65 after the 29th, so the 30th begins with 105 used up.
     */
    @Test
    void theWarmthOfMarch2015IsTheSumOfItsDays() {
        Lot lot = heeledIn(LocalDate.of(2015, 3, 12));
        Allowance warmth = of(read(lot, LocalDate.of(2015, 3, 19)), "warmth");
        assertThat(warmth.used()).isCloseTo(41.35, within(1e-9));
        assertThat(warmth.runsOutOn()).isEqualTo("2015-03-30");
        assertThat(warmth.runsOutLatest()).isEqualTo("2015-03-30");
        assertThat(warmth.basis()).isEqualTo("recorded");
        assertThat(of(read(lot, LocalDate.of(2015, 3, 29)), "warmth").used()).isCloseTo(104.40, within(1e-9));
        assertThat(of(read(lot, LocalDate.of(2015, 3, 30)), "warmth").level()).isEqualTo(Level.OVER);
        assertThat(of(read(lot, LocalDate.of(2015, 3, 29)), "warmth").level()).isEqualTo(Level.SOON);
    }

    @Test
    void inEverySpringTheClockSumsWhatTheFileSumsAndKeepsToItsDay() {
        for (int year = 2012; year <= 2015; year++) {
            for (LocalDate since : List.of(LocalDate.of(year, 2, 20), LocalDate.of(year, 4, 5))) {
                Lot lot = heeledIn(since);
                LocalDate out = crossing(since);
                double before = 0;
                for (LocalDate on = since; on.isBefore(out.plusDays(3)); on = on.plusDays(4)) {
                    Allowance warmth = of(read(lot, on), "warmth");
                    assertThat(warmth.used()).as("%s on %s", since, on).isCloseTo(sumFrom(since, on), within(1e-9));
                    assertThat(warmth.used()).isGreaterThanOrEqualTo(before);
                    // With every day known the answer is the same whenever it is asked.
                    assertThat(warmth.runsOutOn()).as("%s on %s", since, on).isEqualTo(out);
                    assertThat(warmth.estimatedDays()).isZero();
                    before = warmth.used();
                }
            }
        }
    }

    /** Who places later never has to plant earlier for warmth: the sum over fewer days is smaller. */
    @Test
    void placingLaterNeverRunsOutEarlier() {
        LocalDate asked = LocalDate.of(2014, 3, 20);
        LocalDate before = LocalDate.MIN;
        double used = Double.MAX_VALUE;
        for (int day = 0; day <= 20; day += 2) {
            Allowance warmth = of(read(heeledIn(LocalDate.of(2014, 2, 28).plusDays(day)), asked), "warmth");
            assertThat(warmth.runsOutOn()).isAfterOrEqualTo(before);
            assertThat(warmth.used()).isLessThanOrEqualTo(used + 1e-9);
            before = warmth.runsOutOn();
            used = warmth.used();
        }
    }

    /** Beyond the last day of the file the same days of 2012 to 2015 give a spread; it holds what each year would give. */
    @Test
    void beyondTheFileEarlierYearsGiveTheSpread() {
        LocalDate since = LocalDate.of(2015, 12, 20);
        LocalDate asked = LocalDate.of(2015, 12, 31);
        Allowance warmth = of(read(heeledIn(since), asked), "warmth");
        assertThat(warmth.basis()).isEqualTo("earlier-years");
        assertThat(warmth.years()).isGreaterThanOrEqualTo(3);
        double used = sumFrom(since, LocalDate.of(2016, 1, 1));
        LocalDate earliest = LocalDate.MAX;
        LocalDate latest = LocalDate.MIN;
        for (int year = 2012; year <= 2015; year++) {
            double sum = used;
            LocalDate day = LocalDate.of(year, 1, 1);
            while (sum < SUM) {
                LocalDate d = day;
                sum += file.stream()
                        .filter(l -> l.date().equals(d))
                        .mapToDouble(l -> l.degreeDays(BASE))
                        .sum();
                day = day.plusDays(1);
            }
            LocalDate then = LocalDate.of(2016, 1, 1).plusDays(ChronoUnit.DAYS.between(LocalDate.of(year, 1, 1), day));
            earliest = then.isBefore(earliest) ? then : earliest;
            latest = then.isAfter(latest) ? then : latest;
        }
        // A leap day may shift the course of a year by one day.
        assertThat(ChronoUnit.DAYS.between(earliest, warmth.runsOutOn())).isBetween(-1L, 1L);
        assertThat(ChronoUnit.DAYS.between(latest, warmth.runsOutLatest())).isBetween(-1L, 1L);
        assertThat(warmth.runsOutMiddle()).isBetween(warmth.runsOutOn(), warmth.runsOutLatest());
    }

    /** FAO-56 Eq 82 and 85 by hand: a bed of loam, 0.155 m³/m³ over 0.3 m, holds 46.5 mm; rain of a wet week fills it. */
    @Test
    void theBedIsFullAfterAWetWeekAndDriesInSummer() {
        // 12 to 17 March 2015 brought 76.7 mm.
        Lot wet = vineyard.inside(() -> {
            Lot lot = TestStock.lot(stock, 10, LocalDate.of(2015, 3, 1));
            stock.place(lot.id(), bed("loam"), 10, LocalDate.of(2015, 3, 1));
            return lot;
        });
        Allowance full = of(read(wet, LocalDate.of(2015, 3, 16)), "dryness");
        assertThat(full.unit()).isEqualTo("mm");
        assertThat(full.used()).isLessThan(1);
        // July 2015 was all but dry there: 23 days from 1 July bring 0 mm, and a bed without watering runs dry.
        double rain = file.stream()
                .filter(l -> l.date().getYear() == 2015
                        && l.date().getMonthValue() == 7
                        && l.date().getDayOfMonth() < 24)
                .mapToDouble(Line::rain)
                .sum();
        assertThat(rain).isZero();
        Lot dry = vineyard.inside(() -> {
            Lot lot = TestStock.lot(stock, 10, LocalDate.of(2015, 7, 1));
            stock.place(lot.id(), bed("loam"), 10, LocalDate.of(2015, 7, 1));
            return lot;
        });
        double before = 0;
        for (int day = 2; day < 24; day += 3) {
            double now = of(read(dry, LocalDate.of(2015, 7, day)), "dryness").used();
            assertThat(now).isGreaterThan(before);
            before = now;
        }
        assertThat(of(read(dry, LocalDate.of(2015, 7, 23)), "dryness").level()).isEqualTo(Level.OVER);
    }

    private java.util.UUID bed(String soil) {
        return stock.addStore(new Stock.NewStore(
                "Bed " + java.util.UUID.randomUUID(), StoreKind.HEELED_IN, null, null, soil, null, null, null));
    }

    /** Sums of the file by an independent reading of it: Winkler 1111.90, 1333.45, 1439.70, 1477.70 °C·d. */
    @Test
    void theSeasonsSumsAreThoseOfTheFile() {
        double[] winkler = {1111.90, 1333.45, 1439.70, 1477.70};
        int[] frosts = {21, 30, 22, 15};
        for (int year = 2012; year <= 2015; year++) {
            int season = year;
            Figures figures = vineyard.inside(() -> seasons.view(season)).figures();
            assertThat(figures.winkler().sum()).isCloseTo(winkler[year - 2012], within(1e-6));
            assertThat(figures.winkler().missing()).isZero();
            assertThat(figures.frostNights()).isEqualTo(frosts[year - 2012]);
            // Huglin 1978; the test vineyard lies at 50.8° north, where the factor of 50° is kept: 1.06.
            double huglin = file.stream()
                    .filter(l -> l.date().getYear() == season
                            && l.date().getMonthValue() >= 4
                            && l.date().getMonthValue() <= 9)
                    .mapToDouble(l -> Math.max(0, ((l.low() + l.high()) / 2 - 10 + l.high() - 10) / 2))
                    .sum();
            assertThat(figures.huglin().sum()).isCloseTo(1.06 * huglin, within(1e-6));
        }
        assertThat(vineyard.inside(() -> seasons.view(2012)).figures().lastFrost())
                .isEqualTo("2012-03-19");
        assertThat(vineyard.as(Role.READER).open("/weather?season=2015").page().text())
                .contains("1,478 °C·d", "1,943 °C·d");
    }
}
