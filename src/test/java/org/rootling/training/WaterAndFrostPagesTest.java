package org.rootling.training;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Locale;
import java.util.TreeSet;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.TestField;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.weather.Weather;
import org.rootling.weather.calc.WeatherDay;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** Two plantings of a block in dry weather: what the page says of their water, of a hot week and of a cold night. */
@AppTest
@Import(TestField.class)
class WaterAndFrostPagesTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    Vines vines;

    @Autowired
    Weather weather;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    TransactionTemplate transaction;

    private TestVineyard vineyard;
    private LocalDate today;

    @BeforeEach
    void twoPlantingsAndDryWeather() {
        vineyard = vineyards.fresh();
        TestField.Field field = fields.make(vineyard, 60);
        today = fields.today(vineyard);
        plant(field, 1, 12, today.minusDays(6));
        plant(field, 2, 5, today.minusDays(3));
        vineyard.run(() -> transaction.executeWithoutResult(status -> {
            for (int back = 0; back <= 8; back++) {
                jdbc.sql("""
                                insert into weather_day (id, date, low_c, high_c, rain_mm, forecast, source)
                                values (gen_random_uuid(), :date, :low, 24, 0, false, 'test')""")
                        .param("date", today.minusDays(back))
                        .param("low", back == 1 ? -3.5 : 8)
                        .update();
            }
        }));
    }

    private void plant(TestField.Field field, int row, int places, LocalDate on) {
        vineyard.run(() -> vines.plant(new NewPlanting(
                Ids.next(),
                field.row(row).id(),
                IntStream.rangeClosed(1, places).boxed().collect(Collectors.toCollection(TreeSet::new)),
                field.lot(),
                on,
                vineyard.account(Role.HELPER))));
    }

    /**
     * By hand, without stress: what is missing is the sum of Kc times ET0 (FAO Irrigation and Drainage Paper 56, equations 58
     * and 85), with Kc from 0.30 to 0.45 in 120 days; 1 mm on half a square metre is half a litre.
     */
    @Test
    void each_planting_day_has_its_own_account_in_litres_minutes_and_loads() {
        double first = litres(today.minusDays(6));
        double second = litres(today.minusDays(3));

        Document page = page("/year-one/B2/water");

        List<String> cards = page.select(".cards .card").eachText();
        assertThat(cards).hasSize(2);
        assertThat(cards.get(0)).contains("5 vines planted on", each(second), "Tank loads 1");
        assertThat(cards.get(1)).contains("12 vines planted on", each(first));
        double all = 5 * second + 12 * first;
        String together = page.select("section.sheet").text();
        assertThat(together).contains(String.format(Locale.ENGLISH, "In all, 17 vines %.0f L", all));
        // the hose gives 15 litres a minute until somebody sets it
        assertThat(together).contains(String.format(Locale.ENGLISH, "%.0f minutes", all / 15));
    }

    @Test
    void a_hot_week_is_planned_ahead_and_says_when_it_runs_low() {
        assertThat(page("/year-one/B2/water").select("section[aria-labelledby=hot-week] .sheet"))
                .isEmpty();

        Document page = page("/year-one/B2/water?hot=9");

        String hot = page.select("section[aria-labelledby=hot-week]").text();
        assertThat(hot).contains("In such heat it runs low on", "After seven such days", "In all, 17 vines");
        assertThat(page.select("section[aria-labelledby=ahead] tbody tr")).hasSize(14);
        assertThat(page.select("section[aria-labelledby=ahead] thead th")).hasSize(5);
    }

    /** F of the frost table: third leaf 10 % at -2.2 and 90 % at -3.3 C (Snyder and de Melo-Abreu, FAO 2005, Table 4.8). */
    @Test
    void a_cold_night_is_judged_by_the_stage_that_was_seen() {
        vineyard.as(Role.HELPER)
                .sendAndFollow("/year-one/B2/stages", "stage", "13", "seenOn", today.toString(), "stageNote", "");
        double margin = vineyard.inside(() -> weather.habits().marginK());

        String text = page("/year-one/B2/water").text();

        assertThat(text).contains("13 Third leaf unfolded", "measured ■ heavy damage likely");
        assertThat(text)
                .contains(String.format(
                        Locale.ENGLISH,
                        "some damage likely from %.1f °C, heavy damage from %.1f °C",
                        -2.2 + margin,
                        -3.3 + margin));
    }

    private double litres(LocalDate planted) {
        double missing = 0;
        for (WeatherDay day : vineyard.inside(() -> weather.days(planted, today.minusDays(1)))) {
            long age = ChronoUnit.DAYS.between(planted, day.date());
            missing += (0.30 + 0.15 * age / 120) * day.et0Mm();
        }
        assertThat(missing).isPositive();
        return missing / 2;
    }

    private static String each(double litres) {
        return String.format(Locale.ENGLISH, "To fill, per vine %.1f L", litres);
    }

    private Document page(String path) {
        return vineyard.as(Role.READER).open(path).page();
    }
}
