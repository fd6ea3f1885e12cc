package org.rootling.weather.domain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.Map;
import org.junit.jupiter.api.Test;
import org.rootling.weather.domain.Fetcher.Failed;
import org.rootling.weather.domain.FileUnits.Dates;
import org.rootling.weather.domain.FileUnits.Radiation;
import org.rootling.weather.domain.FileUnits.Rain;
import org.rootling.weather.domain.FileUnits.Temperature;
import org.rootling.weather.domain.FileUnits.Wind;

class ForecastReaderTest {
    static final FileUnits METRIC = new FileUnits(
            Dates.DAY_FIRST, Temperature.CELSIUS, Rain.MM, Wind.METRES_PER_SECOND, 2, Radiation.MEGAJOULES);

    @Test
    void listsOfValuesAreReadSideBySide() throws Failed {
        String body = """
                {"daily":{"day":["2027-04-02","2027-04-03"],"lowest":[1.5,null],"highest":[12,13],"rain":[0,2]}}""";
        List<DayValues> days = ForecastReader.read(
                body,
                Map.of(
                        Column.DATE,
                        "daily.day",
                        Column.LOW,
                        "daily.lowest",
                        Column.HIGH,
                        "daily.highest",
                        Column.RAIN,
                        "daily.rain"),
                METRIC);
        assertThat(days).hasSize(1);
        assertThat(days.get(0).lowC()).isEqualTo(1.5);
        assertThat(days.get(0).rainMm()).isZero();
    }

    @Test
    void aListOfDaysIsReadOneByOne() throws Failed {
        String body = """
                {"days":[{"date":"2027-04-02","t":{"min":40,"max":59}},{"date":"2027-04-03","t":{"min":32,"max":50}}]}""";
        FileUnits fahrenheit = new FileUnits(
                Dates.DAY_FIRST, Temperature.FAHRENHEIT, Rain.MM, Wind.METRES_PER_SECOND, 2, Radiation.MEGAJOULES);
        List<DayValues> days = ForecastReader.read(
                body,
                Map.of(Column.DATE, "days[].date", Column.LOW, "days[].t.min", Column.HIGH, "days[].t.max"),
                fahrenheit);
        assertThat(days).extracting(DayValues::highC).containsExactly(15.0, 10.0);
    }

    @Test
    void answersThatMakeNoSenseSayWhy() {
        Map<Column, String> paths = Map.of(Column.DATE, "d", Column.LOW, "l", Column.HIGH, "h");
        for (String[] c : new String[][] {
            {"<html>", "weather.fetch.not-json"},
            {"{}", "weather.fetch.no-days"},
            {"[1,2]", "weather.fetch.no-days"},
            {"{\"d\":[\"2027-04-02\"],\"l\":[1,2],\"h\":[3]}", "weather.fetch.uneven"},
            {"{\"d\":[\"2027-04-02\"],\"l\":[9],\"h\":[3]}", "weather.fetch.no-days"},
            {"{\"d\":[\"someday\"],\"l\":[1],\"h\":[3]}", "weather.fetch.no-days"}
        }) {
            assertThatThrownBy(() -> ForecastReader.read(c[0], paths, METRIC))
                    .as(c[0])
                    .isInstanceOf(Failed.class)
                    .hasMessage(c[1]);
        }
    }
}
