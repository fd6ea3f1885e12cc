package org.rootling.weather.domain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import java.io.IOException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.rootling.platform.Refused;
import org.rootling.weather.domain.DayReader.Mapping;
import org.rootling.weather.domain.DayReader.Outcome;
import org.rootling.weather.domain.DayReader.RefusedLine;
import org.rootling.weather.domain.FileUnits.Dates;
import org.rootling.weather.domain.FileUnits.Rain;
import org.rootling.weather.domain.FileUnits.Temperature;
import org.rootling.weather.domain.FileUnits.Wind;
import org.rootling.weather.domain.Headings.Guess;

class ReadingFilesTest {
    private static final LocalDate LATEST = LocalDate.of(2028, 4, 1);

    private static Outcome read(byte[] bytes) {
        CsvTable table = CsvTable.read(bytes);
        Guess guess = Headings.guess(table);
        return DayReader.read(table, new Mapping(guess.headingRow(), guess.columns(), guess.units()), LATEST);
    }

    private static Outcome read(String text) {
        return read(text.getBytes(StandardCharsets.UTF_8));
    }

    private static Guess guess(String text) {
        return Headings.guess(CsvTable.read(text.getBytes(StandardCharsets.UTF_8)));
    }

    @Nested
    class Recognised {
        @Test
        void commonHeadingsAndUnits() {
            Guess guess = guess("""
                    Date;Tmin (°F);Tmax (°F);Precip (in);Mean wind speed (km/h);RH mean
                    2027-04-01;40;60;0.1;10;70
                    """);
            assertThat(guess.columns())
                    .containsExactly(Column.DATE, Column.LOW, Column.HIGH, Column.RAIN, Column.WIND, Column.HUMIDITY);
            assertThat(guess.units().temperature()).isEqualTo(Temperature.FAHRENHEIT);
            assertThat(guess.units().rain()).isEqualTo(Rain.INCH);
            assertThat(guess.units().wind()).isEqualTo(Wind.KM_PER_HOUR);
        }

        @Test
        void headingsOfOtherLanguagesAndStationsBelowAPreamble() {
            Guess guess = guess("""
                    Station 4711
                    exported by the station

                    Datum;Temperatur Min;Temperatur Max;Niederschlag;Sonnenstunden
                    01.04.2027;1,5;12,0;0,2;8
                    """);
            assertThat(guess.headingRow()).isEqualTo(2);
            assertThat(guess.columns()).containsExactly(Column.DATE, Column.LOW, Column.HIGH, Column.RAIN, Column.SUN);
            assertThat(guess("STATION,DATE,PRCP,PRCP_ATTRIBUTES,TMAX,TMIN,AWND\nX,2027-01-01,0,,5,1,2\n")
                            .columns())
                    .containsExactly(
                            Column.IGNORE,
                            Column.DATE,
                            Column.RAIN,
                            Column.IGNORE,
                            Column.HIGH,
                            Column.LOW,
                            Column.WIND);
        }

        @Test
        void valuesTooHotForCelsiusAreFahrenheitUnlessTheHeadingSaysOtherwise() {
            assertThat(guess("date,low,high\n2027-07-01,61,88\n2027-07-02,63,91\n")
                            .units()
                            .temperature())
                    .isEqualTo(Temperature.FAHRENHEIT);
            assertThat(guess("date,low (°C),high (°C)\n2027-07-01,61,88\n")
                            .units()
                            .temperature())
                    .isEqualTo(Temperature.CELSIUS);
        }

        @Test
        void theOrderOfDatesFromAPartAboveTwelve() {
            assertThat(guess("date,low,high\n1/4/2027,1,2\n1/25/2027,1,2\n")
                            .units()
                            .dates())
                    .isEqualTo(Dates.MONTH_FIRST);
            assertThat(guess("date,low,high\n1/4/2027,1,2\n25/1/2027,1,2\n")
                            .units()
                            .dates())
                    .isEqualTo(Dates.DAY_FIRST);
        }
    }

    @Nested
    class Taken {
        @Test
        void decimalCommasWithSemicolonsOrQuotes() {
            assertThat(read("date;low;high;rain\n01.04.2027;-1,5;12,25;0,2\n").days())
                    .containsExactly(new DayValues(
                            LocalDate.of(2027, 4, 1), -1.5, 12.25, 0.2, null, null, null, null, null, null));
            assertThat(read("date,low,high\n2027-04-01,\"-1,5\",\"12,25\"\n")
                            .days()
                            .get(0)
                            .highC())
                    .isEqualTo(12.25);
        }

        @Test
        void everyEncodingThatIsUsual() {
            String text = "Datum;Tiefst °C min;Höchst °C max\n2027-04-01;1;9\n";
            byte[] utf16 = ("\uFEFF" + text).getBytes(StandardCharsets.UTF_16LE);
            byte[] bom = ("\uFEFF" + text).getBytes(StandardCharsets.UTF_8);
            for (byte[] bytes : List.of(
                    text.getBytes(StandardCharsets.UTF_8),
                    text.getBytes(Charset.forName("windows-1252")),
                    bom,
                    utf16)) {
                assertThat(read(bytes).days()).hasSize(1);
            }
        }

        @Test
        void dateStylesAndSplitDates() {
            for (String date : List.of(
                    "2027-04-09",
                    "2027/4/9",
                    "20270409",
                    "09.04.2027",
                    "9/4/2027",
                    "9.4.27",
                    "2027-04-09T00:00:00",
                    "2027-04-09 00:00",
                    "9 Apr 2027")) {
                assertThat(read("date;low;high\n" + date + ";1;9\n").days())
                        .as(date)
                        .extracting(DayValues::date)
                        .containsExactly(LocalDate.of(2027, 4, 9));
            }
            assertThat(read("year,mo,dy,tmin,tmax\n2027,4,9,1,9\n")
                            .days()
                            .get(0)
                            .date())
                    .isEqualTo("2027-04-09");
            assertThat(read("YEAR,DOY,T2M_MIN,T2M_MAX\n2027,99,1,9\n")
                            .days()
                            .get(0)
                            .date())
                    .isEqualTo("2027-04-09");
        }

        @Test
        void unitsAreTurnedIntoMetricOnes() {
            DayValues day = read("date,tmin (°F),tmax (°F),rain (inch),wind (mph)\n2027-04-01,32,212,1,10\n"
                            .replace("212", "68"))
                    .days()
                    .get(0);
            assertThat(day.lowC()).isEqualTo(0);
            assertThat(day.highC()).isEqualTo(20);
            assertThat(day.rainMm()).isEqualTo(25.4);
            // 10 mph is 4.4704 m/s at 10 m; FAO-56 equation 47 gives 0.748 of it at 2 m
            assertThat(day.windMs()).isCloseTo(3.34, within(0.01));
        }

        @Test
        void missingValuesAndTracesOfRain() {
            Outcome outcome = read("date,low,high,rain,wind\n2027-04-01,1,9,T,NA\n2027-04-02,1,9,-9999,\n");
            assertThat(outcome.refused()).isEmpty();
            assertThat(outcome.days().get(0).rainMm()).isZero();
            assertThat(outcome.days().get(0).windMs()).isNull();
            assertThat(outcome.days().get(1).rainMm()).isNull();
        }
    }

    @Nested
    class Refusing {
        @Test
        void impossibleLinesAloneWithTheirReasons() {
            Outcome outcome = read("""
                    date,low,high,rain
                    2027-04-01,5,12,0
                    2027-04-02,15,12,0
                    2027-04-03,5,60,0
                    2027-04-04,5,12,-3
                    2027-02-30,5,12,0
                    2027-04-05,,12,0
                    2027-04-06,five,12,0
                    2027-04-01,5,12,0
                    2027-04-01,6,12,0
                    2035-04-01,6,12,0
                    soon,6,12,0
                    1850-01-01,6,12,0
                    """);
            assertThat(outcome.days()).hasSize(1);
            assertThat(outcome.repeated()).isEqualTo(1);
            assertThat(outcome.refused())
                    .extracting(RefusedLine::line)
                    .containsExactly(3L, 4L, 5L, 6L, 7L, 8L, 10L, 11L, 12L, 13L);
            assertThat(outcome.refused())
                    .extracting(RefusedLine::reason)
                    .containsExactly(
                            "weather.day.low-above-high",
                            "weather.day.temperature",
                            "weather.day.rain-range",
                            "weather.day.no-date",
                            "weather.day.no-temperatures",
                            "weather.day.no-number",
                            "weather.day.twice",
                            "weather.day.too-far-ahead",
                            "weather.day.no-date",
                            "weather.day.year");
        }

        @Test
        void filesThatAreNoTables() {
            assertThatThrownBy(() -> CsvTable.read(new byte[0])).isInstanceOf(Refused.class);
            assertThatThrownBy(() -> CsvTable.read(new byte[] {'P', 'K', 3, 4, 0, 0, 0}))
                    .isInstanceOf(Refused.class)
                    .hasMessage("weather.import.not-text");
            assertThatThrownBy(() -> CsvTable.read("\n\n \n".getBytes(StandardCharsets.UTF_8)))
                    .isInstanceOf(Refused.class);
            assertThatThrownBy(() -> read("a,b,c\n1,2,3\n"))
                    .isInstanceOf(Refused.class)
                    .hasMessage("weather.import.no-date-column");
            assertThatThrownBy(() -> read("date,rain\n2027-04-01,2\n"))
                    .isInstanceOf(Refused.class)
                    .hasMessage("weather.import.no-temperature-columns");
            StringBuilder endless = new StringBuilder("date,low,high\n");
            for (int i = 0; i <= CsvTable.MOST_ROWS; i++) {
                endless.append("2027-04-01,1,2\n");
            }
            assertThatThrownBy(() -> read(endless.toString()))
                    .isInstanceOf(Refused.class)
                    .hasMessage("weather.import.too-many-rows");
        }

        @Test
        void anyBytesAreReadOrRefusedButNeverBreak() {
            Random random = new Random(12);
            byte[] seed = "date;low;high\n2027-04-01;1,5;9\n\"x\";\"\n".getBytes(StandardCharsets.UTF_8);
            int read = 0;
            for (int n = 0; n < 3000; n++) {
                byte[] bytes = Arrays.copyOf(seed, seed.length + random.nextInt(20));
                for (int k = random.nextInt(6); k >= 0; k--) {
                    bytes[random.nextInt(bytes.length)] = (byte) random.nextInt(256);
                }
                try {
                    read += read(bytes).days().size();
                } catch (Refused refused) {
                    assertThat(refused.key()).startsWith("weather.");
                }
            }
            assertThat(read).isPositive();
        }
    }

    @Nested
    class OpenData {
        /** NOAA daily weather of Seattle, 2012 to 2015 (see src/test/resources/open-data/README.md). */
        static byte[] seattle() throws IOException {
            try (var in = ReadingFilesTest.class.getResourceAsStream("/open-data/seattle-weather.csv")) {
                return in.readAllBytes();
            }
        }

        @Test
        void fourYearsOfRealDaysAreReadWhole() throws IOException {
            CsvTable table = CsvTable.read(seattle());
            assertThat(Headings.guess(table).columns())
                    .containsExactly(Column.DATE, Column.RAIN, Column.HIGH, Column.LOW, Column.WIND, Column.IGNORE);
            Outcome outcome = read(seattle());
            assertThat(outcome.days()).hasSize(1461);
            assertThat(outcome.refused()).isEmpty();
            assertThat(outcome.days().get(1).rainMm()).isEqualTo(10.9);
        }
    }

    @Test
    void aHundredYearsOfDaysAreRead() {
        StringBuilder text = new StringBuilder("date,tmin,tmax,rain\n");
        for (LocalDate d = LocalDate.of(1928, 1, 1); d.isBefore(LocalDate.of(2028, 1, 1)); d = d.plusDays(1)) {
            text.append(d).append(",5.5,15.5,1.2\n");
        }
        assertThat(read(text.toString()).days()).hasSize(36_525);
    }
}
