package org.rootling.support;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;

/** Files of daily weather, and the import page with its mapping as a person would go through it. */
public final class WeatherFiles {

    /** A line of the open data set, read without any of the program's own code. */
    public record Line(LocalDate date, double low, double high, double rain) {

        /** Mean of the extremes over a base, from 0 (after Amerine and Winkler 1944). */
        public double degreeDays(double base) {
            return Math.max(0, (low + high) / 2 - base);
        }
    }

    private WeatherFiles() {}

    /** NOAA daily weather of Seattle, 2012 to 2015 (see src/test/resources/open-data/README.md). */
    public static byte[] seattle() throws IOException {
        try (var in = WeatherFiles.class.getResourceAsStream("/open-data/seattle-weather.csv")) {
            return in.readAllBytes();
        }
    }

    /** The same, line by line. */
    public static List<Line> seattleLines() throws IOException {
        List<Line> lines = new ArrayList<>();
        String[] text = new String(seattle(), StandardCharsets.UTF_8).split("\n");
        for (int i = 1; i < text.length; i++) {
            String[] cell = text[i].split(",");
            lines.add(new Line(
                    LocalDate.parse(cell[0].substring(0, 10)),
                    Double.parseDouble(cell[3]),
                    Double.parseDouble(cell[2]),
                    Double.parseDouble(cell[1])));
        }
        return lines;
    }

    /** Lines as a file. */
    public static byte[] file(List<Line> lines) {
        StringBuilder text = new StringBuilder("date,tmin,tmax,rain\n");
        for (Line line : lines) {
            text.append(line.date()).append(',').append(line.low()).append(',').append(line.high());
            text.append(',').append(line.rain()).append('\n');
        }
        return text.toString().getBytes(StandardCharsets.UTF_8);
    }

    /** The columns of a mapping page as they are chosen, and its other fields. */
    public static String[] mapping(TestBrowser.Answer page, String then) {
        var fields = new ArrayList<String>();
        page.page().select("select[name=columns]").forEach(select -> {
            fields.add("columns");
            fields.add(select.select("option[selected]").attr("value"));
        });
        for (String name : List.of("dates", "temperature", "rain", "wind", "radiation")) {
            fields.add(name);
            fields.add(page.page()
                    .select("select[name=" + name + "] option[selected]")
                    .attr("value"));
        }
        fields.addAll(List.of(
                "windHeightM",
                page.page().select("input[name=windHeightM]").attr("value"),
                "headingRow",
                page.page().select("input[name=headingRow]").attr("value"),
                "then",
                then));
        return fields.toArray(String[]::new);
    }

    /** Uploads a file, takes the mapping as guessed, and answers the page that says what was taken. */
    public static TestBrowser.Answer importFile(TestBrowser browser, byte[] bytes) {
        TestBrowser.Answer uploaded = browser.upload("/weather/import", "file", "days.csv", bytes);
        assertThat(uploaded.status()).isEqualTo(302);
        String path = uploaded.location().replaceFirst("^/v/[^/]+", "");
        TestBrowser.Answer page = browser.open(path);
        assertThat(page.status()).isEqualTo(200);
        return browser.sendAndFollow(path, mapping(page, "take"));
    }
}
