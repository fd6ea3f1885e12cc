package org.rootling.weather;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.List;
import java.util.function.ToDoubleFunction;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Allowance;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.TestStock;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.support.WeatherFiles;
import org.rootling.support.WeatherFiles.Line;
import org.rootling.weather.domain.SeasonService;
import org.rootling.weather.domain.SeasonService.Figures;
import org.rootling.weather.domain.SeasonService.Month;
import org.springframework.beans.factory.annotation.Autowired;

/**
 * A vineyard at 41.3° south: its season starts on 1 July, its growing months run over the new year. The days are the real
 * ones of Seattle (NOAA), 184 days later, so that its spring falls into September.
 */
@AppTest
class SouthernSeasonTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    SeasonService seasons;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    TestVineyard vineyard;
    List<Line> file;

    @BeforeEach
    void makeVineyard() throws IOException, SQLException {
        vineyard = vineyards.fresh("Pacific/Auckland");
        try (Connection owner = TestDatabase.asOwner();
                var move = owner.prepareStatement("update vineyard set latitude = -41.3 where id = ?")) {
            move.setObject(1, vineyard.id());
            move.executeUpdate();
        }
        file = WeatherFiles.seattleLines().stream()
                .map(l -> new Line(l.date().plusDays(184), l.low(), l.high(), l.rain()))
                .toList();
        assertThat(WeatherFiles.importFile(vineyard.as(Role.LEAD), WeatherFiles.file(file))
                        .page()
                        .text())
                .contains("1,461 days added");
    }

    private double sum(String first, String last, ToDoubleFunction<Line> of) {
        return file.stream()
                .filter(l ->
                        !l.date().isBefore(LocalDate.parse(first)) && !l.date().isAfter(LocalDate.parse(last)))
                .mapToDouble(of)
                .sum();
    }

    @Test
    void theSeasonIsNamedByTwoYearsAndItsMonthsRunOverTheNewYear() {
        var page = vineyard.as(Role.READER).open("/weather?season=2014").page();
        assertThat(page.text()).contains("2014/15");
        Figures figures = vineyard.inside(() -> seasons.view(2014)).figures();
        // Winkler: October to April; Huglin: October to March, both with the months of the other half year.
        assertThat(figures.winkler().sum())
                .isCloseTo(sum("2014-10-01", "2015-04-30", l -> l.degreeDays(10)), within(1e-6));
        assertThat(figures.winkler().outOf()).isEqualTo(212);
        // The factor of day length takes 41.3° south as 41.3° north: 1.02.
        double huglin =
                sum("2014-10-01", "2015-03-31", l -> Math.max(0, ((l.low() + l.high()) / 2 - 10 + l.high() - 10) / 2));
        assertThat(figures.huglin().sum()).isCloseTo(1.02 * huglin, within(1e-6));
        assertThat(figures.huglin().outOf()).isEqualTo(182);
        assertThat(page.text())
                .contains(String.format("%,.0f °C·d", figures.winkler().sum()));
        assertThat(figures.frostNights()).isEqualTo((int) sum("2014-07-01", "2015-06-30", l -> l.low() <= 0 ? 1 : 0));
        // Its spring are the months from July to December.
        LocalDate last = file.stream()
                .filter(l -> l.low() <= 0
                        && !l.date().isBefore(LocalDate.of(2014, 7, 1))
                        && l.date().isBefore(LocalDate.of(2015, 1, 1)))
                .map(Line::date)
                .max(LocalDate::compareTo)
                .orElseThrow();
        assertThat(figures.lastFrost()).isEqualTo(last);
    }

    @Test
    void theMonthsAddUpToTheSeason() {
        var view = vineyard.inside(() -> seasons.view(2014));
        Figures figures = view.figures();
        assertThat(view.months()).hasSize(12);
        assertThat(view.months().get(0).first()).isEqualTo(LocalDate.of(2014, 7, 1));
        assertThat(total(view.months(), Month::days)).isEqualTo(figures.days());
        assertThat(total(view.months(), Month::heat))
                .isCloseTo(figures.heat().sum(), within(1e-6));
        assertThat(total(view.months(), Month::winkler))
                .isCloseTo(figures.winkler().sum(), within(1e-6));
        assertThat(total(view.months(), Month::huglin))
                .isCloseTo(figures.huglin().sum(), within(1e-6));
        assertThat(total(view.months(), Month::rainMm)).isCloseTo(figures.rainMm(), within(1e-6));
        assertThat(total(view.months(), Month::etMm)).isCloseTo(figures.etMm(), within(1e-6));
        assertThat(total(view.months(), Month::frostNights)).isEqualTo(figures.frostNights());
        var page = vineyard.as(Role.READER).open("/weather?season=2014").page();
        assertThat(page.select("#months tbody tr")).hasSize(12);
        assertThat(page.select("#months tbody tr a").attr("href")).endsWith("/weather/days?month=2014-07");
    }

    private static double total(List<Month> months, ToDoubleFunction<Month> of) {
        return months.stream().mapToDouble(of).sum();
    }

    @Test
    void theSeasonOfADayChangesOnTheFirstOfJuly() {
        var page = vineyard.as(Role.READER).open("/weather?season=2013").page();
        assertThat(page.select("select option, a").eachText()).anyMatch(t -> t.contains("2013/14"));
        double thisSeason = vineyard.inside(() -> seasons.view(2013)).figures().rainMm();
        assertThat(thisSeason).isCloseTo(sum("2013-07-01", "2014-06-30", Line::rain), within(1e-6));
    }

    @Test
    void aHoldThatStandsOverTheNewYearGoesOnCounting() {
        LocalDate since = LocalDate.of(2014, 12, 22);
        Lot lot = vineyard.inside(() -> {
            Lot taken = TestStock.lot(stock, 30, since);
            stock.place(taken.id(), TestStock.store(stock, StoreKind.HEELED_IN), 30, since);
            return taken;
        });
        double used = 0;
        for (LocalDate on : List.of(
                LocalDate.of(2014, 12, 31),
                LocalDate.of(2015, 1, 1),
                LocalDate.of(2015, 1, 2),
                LocalDate.of(2015, 1, 6))) {
            var hold = vineyard.inside(() -> lots.holds(lot.id(), on)).get(0);
            Allowance days = hold.allowance("days");
            Allowance warmth = hold.allowance("warmth");
            assertThat(days.used()).isEqualTo(on.toEpochDay() - since.toEpochDay());
            assertThat(days.runsOutOn()).isEqualTo("2015-01-19");
            assertThat(warmth.used())
                    .isCloseTo(sum(since.toString(), on.minusDays(1).toString(), l -> l.degreeDays(5)), within(1e-6));
            assertThat(warmth.used()).isGreaterThan(used);
            used = warmth.used();
        }
    }

    /** 36,525 days in one file: read, stored, and the newest of them in the sums; sent again it changes nothing. */
    @Test
    void aHundredYearsOfDaysAreTakenAndTakenOnce() {
        StringBuilder text = new StringBuilder("date,tmin,tmax,rain\n");
        for (LocalDate d = LocalDate.of(1912, 1, 1); d.isBefore(LocalDate.of(2012, 1, 1)); d = d.plusDays(1)) {
            text.append(d).append(",7.5,17.5,1.2\n");
        }
        byte[] century = text.toString().getBytes(java.nio.charset.StandardCharsets.UTF_8);
        var lead = vineyard.as(Role.LEAD);
        assertThat(WeatherFiles.importFile(lead, century).page().text()).contains("36,525 days added");
        assertThat(WeatherFiles.importFile(lead, century).page().text()).contains("0 days added", "36,525 unchanged");
        // 1 October 2010 to 30 April 2011: 212 days of 12.5 °C over 10 °C.
        assertThat(vineyard.inside(() -> seasons.view(2010)).figures().winkler().sum())
                .isCloseTo(212 * 2.5, within(1e-6));
        var page = lead.open("/weather?season=1950");
        assertThat(page.status()).isEqualTo(200);
        assertThat(page.page().text()).contains("1950/51", "530 °C·d");
        assertThat(lead.open("/lots").status()).isEqualTo(200);
    }
}
