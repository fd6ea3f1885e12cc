package org.rootling.weather;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.rootling.support.WeatherFiles.importFile;
import static org.rootling.support.WeatherFiles.seattle;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import org.junit.jupiter.api.Nested;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.weather.calc.WeatherDay;
import org.springframework.beans.factory.annotation.Autowired;

/** Days through the pages: typed, imported, shown, refused. */
@AppTest
class WeatherPagesTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    Vineyards current;

    @Autowired
    Weather weather;

    private LocalDate today(TestVineyard vineyard) {
        return vineyard.inside(() -> current.today());
    }

    @Nested
    class Typed {
        @Test
        void aHelperRecordsADayAndItShows() {
            TestVineyard vineyard = vineyards.fresh();
            LocalDate day = today(vineyard).minusDays(1);
            TestBrowser helper = vineyard.as(Role.HELPER);
            assertThat(helper.open("/weather").status()).isEqualTo(200);
            helper.sendAndFollow("/weather/day", "date", day.toString(), "low", "3,5", "high", "14.26", "rain", "2");
            TestBrowser.Answer month = helper.open("/weather/days?month=" + java.time.YearMonth.from(day));
            assertThat(month.page().text()).contains("3.5 °C", "14.3 °C", "2.0 mm", "typed");
            assertThat(vineyard.inside(() -> weather.days(day, day))).hasSize(1);
        }

        /** NIST Special Publication 811 (2008), appendix B.8: 1 in = 25.4 mm, 1 mi/h = 0.44704 m/s. */
        @Test
        void aDaySentBackByWhoReadsInchesIsTheDayItWas() {
            TestVineyard vineyard = vineyards.fresh();
            LocalDate day = today(vineyard).minusDays(1);
            TestBrowser helper = vineyard.as(Role.HELPER);
            String[] typed = {"date", day.toString(), "low", "3.3", "high", "14.7", "rain", "3.4", "wind", "2.3"};
            helper.sendAndFollow("/weather/day", typed);
            vineyard.reads(Role.HELPER, "us", "en");
            var page = helper.open("/weather/day?on=" + day).page();
            assertThat(page.getElementById("rain").parent().text()).isEqualTo("in");
            assertThat(page.getElementById("wind").parent().text()).isEqualTo("mph");
            for (int i = 3; i < typed.length; i += 2) {
                typed[i] = page.getElementById(typed[i - 1]).val();
            }
            assertThat(typed)
                    .containsExactly(
                            "date", day.toString(), "low", "37.94", "high", "58.46", "rain", "0.134", "wind", "5.145");
            List<String> again = new java.util.ArrayList<>(List.of(typed));
            again.addAll(List.of("version", page.select("[name=version]").val()));
            helper.sendAndFollow("/weather/day", again.toArray(String[]::new));
            var metric = vineyard.as(Role.LEAD).open("/weather/day?on=" + day).page();
            assertThat(List.of("low", "high", "rain", "wind"))
                    .extracting(field -> metric.getElementById(field).val())
                    .containsExactly("3.3", "14.7", "3.4", "2.3");
            String month = "/weather/days?month=" + java.time.YearMonth.from(day) + "&list-csv=days";
            assertThat(new String(
                            helper.open(month).raw().getResponse().getContentAsByteArray(), StandardCharsets.UTF_8))
                    .contains("\"Lowest, °F\",\"Highest, °F\",\"Rain, in\"", "37.94,58.46,0.13,");
        }

        @Test
        void badValuesAreRefusedAtTheirField() {
            TestVineyard vineyard = vineyards.fresh();
            TestBrowser helper = vineyard.as(Role.HELPER);
            String day = today(vineyard).toString();
            String[][] wrong = {
                {"low", "15", "high", "12", "rain", "0", "low"},
                {"low", "5", "high", "60", "rain", "0", "high"},
                {"low", "5", "high", "12", "rain", "-1", "rain"},
                {"low", "", "high", "12", "rain", "0", "low"},
                {"low", "warm", "high", "12", "rain", "0", "low"},
                {"low", "1e999", "high", "12", "rain", "0", "low"},
                {"low", "<b>5</b>", "high", "12", "rain", "0", "low"},
            };
            for (String[] w : wrong) {
                TestBrowser.Answer answer =
                        helper.send("/weather/day", "date", day, w[0], w[1], w[2], w[3], w[4], w[5]);
                assertThat(answer.status()).isEqualTo(200);
                assertThat(answer.page().select("#" + w[6] + "-error").text())
                        .as(String.join(" ", w))
                        .isNotBlank();
            }
            for (String date : List.of("1066-10-14", "3027-01-01", "soon", "")) {
                TestBrowser.Answer answer = helper.send("/weather/day", "date", date, "low", "1", "high", "5");
                assertThat(answer.page().select("#date-error").text()).as(date).isNotBlank();
            }
            assertThat(vineyard.inside(() -> weather.days(today(vineyard).minusDays(9), today(vineyard))))
                    .isEmpty();
        }

        @Test
        void aDayIsCorrectedOnlyFromWhatWasSeen() {
            TestVineyard vineyard = vineyards.fresh();
            TestBrowser lead = vineyard.as(Role.LEAD);
            String day = today(vineyard).toString();
            lead.sendAndFollow("/weather/day", "date", day, "low", "3", "high", "14");
            assertThat(lead.send("/weather/day", "date", day, "low", "4", "high", "14")
                            .page()
                            .select("#date-error")
                            .text())
                    .contains("already");
            lead.sendAndFollow("/weather/day", "date", day, "low", "4", "high", "14", "version", "0");
            assertThat(lead.send("/weather/day", "date", day, "low", "5", "high", "14", "version", "0")
                            .status())
                    .isEqualTo(409);
            assertThat(lead.send("/weather/day/withdraw", "date", day, "version", "0")
                            .status())
                    .isEqualTo(409);
            assertThat(lead.send("/weather/day/withdraw", "date", day, "version", "1")
                            .status())
                    .isEqualTo(302);
            assertThat(vineyard.inside(() -> weather.days(today(vineyard), today(vineyard))))
                    .isEmpty();
            lead.sendAndFollow("/weather/day", "date", day, "low", "6", "high", "14");
        }

        @Test
        void aDateAheadIsAForecastUntilItIsRecorded() {
            TestVineyard vineyard = vineyards.fresh();
            LocalDate ahead = today(vineyard).plusDays(3);
            TestBrowser helper = vineyard.as(Role.HELPER);
            helper.sendAndFollow("/weather/day", "date", ahead.toString(), "low", "-4", "high", "6");
            assertThat(vineyard.inside(() -> weather.forecastUntil())).hasValue(ahead);
            TestBrowser.Answer page = helper.open("/weather");
            assertThat(page.page().select("main").text()).contains("Frost ahead");
            assertThat(page.page().select(".alert.danger").text()).contains("damage likely");
        }

        @Test
        void aReaderSeesButDoesNotRecord() {
            TestVineyard vineyard = vineyards.fresh();
            TestBrowser reader = vineyard.as(Role.READER);
            assertThat(reader.open("/weather").page().select("form[action$=/weather/day]"))
                    .isEmpty();
            assertThat(reader.send("/weather/day", "date", "2027-04-01", "low", "1", "high", "5")
                            .status())
                    .isEqualTo(403);
        }
    }

    @Nested
    class Imported {
        @Test
        void fourYearsOfRealDaysOnceAndAgain() throws IOException {
            TestVineyard vineyard = vineyards.fresh();
            TestBrowser lead = vineyard.as(Role.LEAD);
            assertThat(importFile(lead, seattle())
                            .page()
                            .select("[role=status]")
                            .text())
                    .contains("1,461 days added", "0 corrected", "0 lines refused");
            assertThat(importFile(lead, seattle())
                            .page()
                            .select("[role=status]")
                            .text())
                    .contains("0 days added", "0 corrected", "1,461 unchanged");
            List<WeatherDay> days =
                    vineyard.inside(() -> weather.days(LocalDate.of(2014, 1, 1), LocalDate.of(2014, 12, 31)));
            assertThat(days).hasSize(365);
            // Sum of the file's own rain column for 2014, by an independent reading of it.
            assertThat(days.stream().mapToDouble(WeatherDay::rainMm).sum()).isCloseTo(1232.8, within(0.05));
            TestBrowser.Answer season = lead.open("/weather?season=2015");
            assertThat(season.status()).isEqualTo(200);
            assertThat(season.page().select("svg.plot polyline")).hasSizeGreaterThanOrEqualTo(4);
            assertThat(season.page().text()).contains("Winkler sum", "Huglin index");
        }

        @Test
        void whatDiffersIsCorrectedAndRefusedLinesAreSaid() {
            TestVineyard vineyard = vineyards.fresh();
            TestBrowser lead = vineyard.as(Role.LEAD);
            importFile(lead, "date;low;high\n2027-01-01;1;5\n2027-01-02;1;5\n".getBytes(StandardCharsets.UTF_8));
            TestBrowser.Answer done = importFile(
                    lead,
                    "date;low;high\n2027-01-01;1;5\n2027-01-02;1,5;5\n2027-01-03;9;5\n2027-01-04;0;5\n"
                            .replace("2027", "2026")
                            .replace("2026-01-0", "2025-01-0")
                            .getBytes(StandardCharsets.UTF_8));
            assertThat(done.page().select("[role=status]").text()).contains("3 days added", "1 line refused");
            done = importFile(lead, "date;low;high\n2025-01-01;1;5\n2025-01-02;2;5\n".getBytes(StandardCharsets.UTF_8));
            assertThat(done.page().select("[role=status]").text())
                    .contains("0 days added", "1 corrected", "1 unchanged");
        }

        @Test
        void anUnknownTableAsksWhatItsColumnsAre() {
            TestVineyard vineyard = vineyards.fresh();
            TestBrowser lead = vineyard.as(Role.LEAD);
            TestBrowser.Answer uploaded = lead.upload(
                    "/weather/import",
                    "file",
                    "<script>x</script>.csv",
                    "aa;bb;cc\n2025-03-01;1;9\n".getBytes(StandardCharsets.UTF_8));
            String path = uploaded.location().replaceFirst("^/v/[^/]+", "");
            TestBrowser.Answer page = lead.open(path);
            assertThat(page.page().select(".alert.danger").text()).contains("date");
            assertThat(page.page().select("script:not([src])")).isEmpty();
            String[] rest = {
                "dates",
                "DAY_FIRST",
                "temperature",
                "CELSIUS",
                "rain",
                "MM",
                "wind",
                "KNOTS",
                "windHeightM",
                "10",
                "radiation",
                "MEGAJOULES",
                "headingRow",
                "0",
                "then",
                "take"
            };
            String[] fields = java.util.stream.Stream.concat(
                            java.util.stream.Stream.of("columns", "DATE", "columns", "LOW", "columns", "HIGH"),
                            java.util.Arrays.stream(rest))
                    .toArray(String[]::new);
            assertThat(lead.sendAndFollow(path, fields).page().text()).contains("1 day added");
            assertThat(lead.sendAndFollow(path, fields).page().text()).contains("1 day added");
        }

        @Test
        void filesThatAreNoTablesAreRefused() {
            TestVineyard vineyard = vineyards.fresh();
            TestBrowser lead = vineyard.as(Role.LEAD);
            for (byte[] bytes : List.of(new byte[0], new byte[] {0, 1, 2, 0}, "\n".getBytes(StandardCharsets.UTF_8))) {
                TestBrowser.Answer answer = lead.upload("/weather/import", "file", "x.csv", bytes);
                assertThat(answer.status()).isEqualTo(200);
                assertThat(answer.page().select("#file-error").text()).isNotBlank();
            }
        }

        @Test
        void anotherVineyardsFileIsNotThere() {
            TestVineyard mine = vineyards.fresh();
            TestVineyard other = vineyards.fresh();
            TestBrowser.Answer uploaded = mine.as(Role.LEAD)
                    .upload(
                            "/weather/import",
                            "file",
                            "x.csv",
                            "date;low;high\n2025-03-01;1;9\n".getBytes(StandardCharsets.UTF_8));
            String path = uploaded.location().replaceFirst("^/v/[^/]+", "");
            assertThat(other.as(Role.LEAD).open(path).status()).isEqualTo(404);
        }
    }

    @Nested
    class Settings {
        @Test
        void theOwnerChangesTheBaseAndAStaleEditIsRefused() {
            TestVineyard vineyard = vineyards.fresh();
            TestBrowser owner = vineyard.as(Role.OWNER);
            String[] fields = {
                "base",
                "5",
                "cutKind",
                "LEVEL",
                "cut",
                "30",
                "frost",
                "0",
                "margin",
                "1,5",
                "stage",
                "FIRST_LEAF",
                "temperature",
                "CELSIUS",
                "rain",
                "MM",
                "wind",
                "METRES_PER_SECOND",
                "windHeightM",
                "10",
                "radiation",
                "MEGAJOULES",
                "version",
                "-1"
            };
            assertThat(owner.sendAndFollow("/weather/settings", fields).page().text())
                    .contains("Saved");
            assertThat(vineyard.inside(() -> weather.habits().baseC())).isEqualTo(5);
            assertThat(owner.send("/weather/settings", fields).status()).isEqualTo(409);
            assertThat(vineyard.as(Role.LEAD).send("/weather/settings", fields).status())
                    .isEqualTo(403);
        }

        /** NIST Special Publication 811 (2008), appendix B.8: 1 ft = 0.3048 m; a kelvin is 1.8 degrees Fahrenheit. */
        @Test
        void settingsAreTypedInFeetAndDegreesFahrenheitByWhoReadsThem() {
            TestVineyard vineyard = vineyards.fresh();
            vineyard.reads(Role.OWNER, "us", "en");
            TestBrowser owner = vineyard.as(Role.OWNER);
            String[] fields = {
                "base",
                "50",
                "cutKind",
                "NONE",
                "frost",
                "32",
                "margin",
                "3.6",
                "stage",
                "FIRST_LEAF",
                "temperature",
                "CELSIUS",
                "rain",
                "MM",
                "wind",
                "METRES_PER_SECOND",
                "windHeightM",
                "33",
                "radiation",
                "MEGAJOULES",
                "version",
                "-1"
            };
            var page = owner.sendAndFollow("/weather/settings", fields).page();
            assertThat(page.getElementById("windHeightM").parent().text()).isEqualTo("ft");
            assertThat(page.getElementById("windHeightM").val()).isEqualTo("33");
            assertThat(page.getElementById("margin").parent().text()).isEqualTo("°F");
            assertThat(page.getElementById("margin").val()).isEqualTo("3.6");
            fields[17] = "400";
            assertThat(owner.send("/weather/settings", fields)
                            .page()
                            .getElementById("windHeightM-error")
                            .text())
                    .contains("must be 328.08 ft or less");
            vineyard.reads(Role.OWNER, "metric", "en");
            var metric = owner.open("/weather/settings").page();
            assertThat(List.of("base", "frost", "margin", "windHeightM"))
                    .extracting(field -> metric.getElementById(field).val())
                    .containsExactly("10", "0", "2", "10.0584");
        }

        @Test
        void aFetchNeedsAnAddressWithTheCoordinatesAndPaths() {
            TestBrowser owner = vineyards.fresh().as(Role.OWNER);
            String[] common = {
                "base",
                "10",
                "cutKind",
                "NONE",
                "frost",
                "0",
                "margin",
                "2",
                "stage",
                "BUD_BURST",
                "temperature",
                "CELSIUS",
                "rain",
                "MM",
                "wind",
                "METRES_PER_SECOND",
                "windHeightM",
                "10",
                "radiation",
                "MEGAJOULES",
                "version",
                "-1",
                "fetchOn",
                "true"
            };
            String[][] wrong = {
                {"url", "", "pathDate", "d", "pathLow", "l", "pathHigh", "h", "url"},
                {"url", "http://example.org/", "pathDate", "d", "pathLow", "l", "pathHigh", "h", "url"},
                {
                    "url",
                    "http://example.org/{latitude},{longitude}",
                    "pathDate",
                    "",
                    "pathLow",
                    "l",
                    "pathHigh",
                    "h",
                    "pathDate"
                },
                {
                    "url",
                    "http://example.org/{latitude},{longitude}",
                    "pathDate",
                    "d[[",
                    "pathLow",
                    "l",
                    "pathHigh",
                    "h",
                    "pathDate"
                },
            };
            for (String[] w : wrong) {
                String[] fields = new String[common.length + 8];
                System.arraycopy(common, 0, fields, 0, common.length);
                System.arraycopy(w, 0, fields, common.length, 8);
                TestBrowser.Answer answer = owner.send("/weather/settings", fields);
                assertThat(answer.page().select("#" + w[8] + "-error").text())
                        .as(String.join(" ", w))
                        .isNotBlank();
            }
        }
    }

    @Nested
    class Api {
        @Test
        void daysAreRecordedAndReadWithTheirEvapotranspiration() {
            TestVineyard vineyard = vineyards.fresh();
            String body =
                    "{\"days\":[{\"date\":\"2026-07-01\",\"low\":12,\"high\":26,\"rain\":0},{\"date\":\"2026-07-02\",\"low\":13,\"high\":27}]}";
            TestApi.Answer taken = TestApi.post(vineyard, Role.LEAD, "/api/v1/weather/days", body);
            assertThat(taken.status()).isEqualTo(200);
            assertThat(taken.json().get("added").asInt()).isEqualTo(2);
            TestApi.Answer days =
                    TestApi.get(vineyard, Role.READER, "/api/v1/weather/days?from=2026-07-01&to=2026-07-31");
            assertThat(days.json()).hasSize(2);
            assertThat(days.json().get(0).get("et0Mm").asDouble()).isBetween(3.0, 7.0);
            assertThat(TestApi.post(vineyard, Role.HELPER, "/api/v1/weather/days", body)
                            .status())
                    .isEqualTo(403);
            assertThat(TestApi.post(
                                    vineyard,
                                    Role.LEAD,
                                    "/api/v1/weather/days",
                                    "{\"days\":[{\"date\":\"2026-07-01\",\"low\":27,\"high\":26}]}")
                            .status())
                    .isEqualTo(422);
            assertThat(TestApi.get(vineyard, Role.READER, "/api/v1/weather/days?from=1900-01-01&to=2100-01-01")
                            .status())
                    .isEqualTo(422);
        }
    }
}
