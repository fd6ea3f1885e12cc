package org.rootling.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.Collections;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.zip.ZipFile;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

class SpreadsheetsTest {

    private final Sheet sheet = Sheet.of(
            "vines",
            List.of("row", "lot", "planted", "alive", "note"),
            List.of(
                    Arrays.asList(7, "26-A", LocalDate.of(2026, 4, 14), 0.95, "said \"fine\", twice\nand again"),
                    Arrays.asList(8, "26-B", null, -3, "=1+1")));

    @Test
    void csv_is_read_back_as_written() throws IOException {
        var out = new ByteArrayOutputStream();
        Spreadsheets.csv(sheet, out);
        try (CSVParser parser = CSVParser.parse(
                new ByteArrayInputStream(out.toByteArray()), StandardCharsets.UTF_8, CSVFormat.RFC4180)) {
            var records = parser.getRecords();
            assertThat(records.get(0).toList()).containsExactly("row", "lot", "planted", "alive", "note");
            assertThat(records.get(1).toList())
                    .containsExactly("7", "26-A", "2026-04-14", "0.95", "said \"fine\", twice\nand again");
            assertThat(records.get(2).toList()).containsExactly("8", "26-B", "", "-3", "'=1+1");
        }
    }

    /** OWASP, CSV Injection: the characters that start a formula. */
    @Test
    void text_that_starts_like_a_formula_is_made_harmless_and_numbers_stay_numbers() {
        for (String start : List.of("=", "+", "-", "@", "\t", "\r")) {
            assertThat(Spreadsheets.csvCell(start + "cmd")).isEqualTo("'" + start + "cmd");
        }
        assertThat(Spreadsheets.csvCell("'quoted")).isEqualTo("''quoted");
        assertThat(Spreadsheets.csvCell(-4.5)).isEqualTo("-4.5");
        assertThat(Spreadsheets.csvCell("B2 r7")).isEqualTo("B2 r7");
        assertThat(Spreadsheets.csvCell(null)).isNull();
    }

    @Test
    void a_workbook_holds_its_sheets_as_valid_xml(@TempDir Path folder) throws IOException {
        Path file = folder.resolve("book.xlsx");
        try (var out = Files.newOutputStream(file)) {
            Spreadsheets.xlsx(List.of(sheet, Sheet.of("empty", List.of("nothing"), List.of())), out);
        }

        Map<String, String> parts = unzip(file);
        assertThat(parts).containsKeys("xl/workbook.xml", "xl/worksheets/sheet1.xml", "xl/worksheets/sheet2.xml");
        assertThat(parts.get("xl/workbook.xml")).contains("name=\"vines\"").contains("name=\"empty\"");
        // Text goes in as text, never as a formula element.
        assertThat(parts.get("xl/worksheets/sheet1.xml")).doesNotContain("<f>").contains("<v>0.95</v>");
    }

    /** By the central directory, as every reader of such files does. */
    private static Map<String, String> unzip(Path file) throws IOException {
        Map<String, String> parts = new HashMap<>();
        try (var zip = new ZipFile(file.toFile())) {
            for (var entry : Collections.list(zip.entries())) {
                parts.put(
                        entry.getName(), new String(zip.getInputStream(entry).readAllBytes(), StandardCharsets.UTF_8));
            }
        }
        return parts;
    }
}
