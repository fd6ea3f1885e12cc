package org.rootling.exchange.domain;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.Charset;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.rootling.platform.Refused;

/**
 * A small table that somebody brings along: a heading line and lines of text. Read from CSV (comma, semicolon or tab;
 * UTF-8 or Windows-1252) or from the first sheet of an XLSX file.
 */
public record ImportTable(List<String> headings, List<List<String>> rows) {

    /** More lines than this are asked for in parts. */
    public static final int MOST_ROWS = 2000;

    private static final int MOST_COLUMNS = 60;
    private static final int MOST_TEXT = 1000;
    private static final int MOST_BYTES = 1_000_000;

    public ImportTable {
        headings = List.copyOf(headings);
        rows = rows.stream().map(List::copyOf).toList();
    }

    /** Reads an uploaded file. */
    public static ImportTable read(String fileName, byte[] content) {
        if (content.length == 0) {
            throw new Refused("exchange.import.empty").at("file");
        }
        if (content.length > MOST_BYTES) {
            throw new Refused("platform.error.too-large").at("file");
        }
        boolean zipped = content.length > 1 && content[0] == 'P' && content[1] == 'K';
        boolean workbook = zipped || fileName.toLowerCase(Locale.ROOT).endsWith(".xlsx");
        return workbook ? of(XlsxReader.firstSheet(content)) : parse(decode(content));
    }

    private static ImportTable parse(String text) {
        String plain = text.startsWith("\uFEFF") ? text.substring(1) : text;
        CSVFormat format = CSVFormat.DEFAULT
                .builder()
                .setDelimiter(delimiter(plain))
                .setIgnoreEmptyLines(true)
                .setTrim(true)
                .get();
        List<List<String>> lines = new ArrayList<>();
        try (CSVParser parser = format.parse(new StringReader(plain))) {
            for (CSVRecord line : parser) {
                lines.add(new ArrayList<>(line.toList()));
                if (lines.size() > MOST_ROWS + 1) {
                    break;
                }
            }
        } catch (IOException | UncheckedIOException | IllegalStateException broken) {
            throw new Refused("exchange.import.unreadable").at("file");
        }
        return of(lines);
    }

    private static ImportTable of(List<List<String>> lines) {
        if (lines.size() < 2) {
            throw new Refused("exchange.import.empty").at("file");
        }
        if (lines.size() > MOST_ROWS + 1) {
            throw new Refused("exchange.import.too-many", MOST_ROWS).at("file");
        }
        int width = lines.get(0).size();
        if (width > MOST_COLUMNS) {
            throw new Refused("exchange.import.too-wide", MOST_COLUMNS).at("file");
        }
        List<List<String>> rows = new ArrayList<>();
        for (List<String> line : lines.subList(1, lines.size())) {
            List<String> row = new ArrayList<>();
            for (int column = 0; column < width; column++) {
                row.add(column < line.size() ? cell(line.get(column)) : "");
            }
            rows.add(row);
        }
        return new ImportTable(lines.get(0), rows);
    }

    /** Takes away the apostrophe that our own files put before what a spreadsheet would take for a formula. */
    private static String cell(String text) {
        String plain = text.matches("'[=+\\-@'].*") ? text.substring(1) : text;
        return requireShort(plain);
    }

    /** One long text that a thousand cells of a workbook point at must not be copied for each. */
    static String requireShort(String text) {
        if (text.length() > MOST_TEXT) {
            throw new Refused("exchange.import.cell-too-long", MOST_TEXT).at("file");
        }
        return text;
    }

    private static char delimiter(String text) {
        String first = text.lines().findFirst().orElse("");
        char most = ',';
        for (char candidate : new char[] {';', '\t'}) {
            if (count(first, candidate) > count(first, most)) {
                most = candidate;
            }
        }
        return most;
    }

    private static long count(String text, char sign) {
        return text.chars().filter(c -> c == sign).count();
    }

    private static String decode(byte[] content) {
        try {
            String text = StandardCharsets.UTF_8
                    .newDecoder()
                    .decode(ByteBuffer.wrap(content))
                    .toString();
            if (text.indexOf('\0') >= 0) {
                throw new Refused("exchange.import.unreadable").at("file");
            }
            return text;
        } catch (CharacterCodingException notUtf8) {
            return new String(content, Charset.forName("windows-1252"));
        }
    }
}
