package org.rootling.weather.domain;

import java.io.IOException;
import java.io.StringReader;
import java.io.UncheckedIOException;
import java.nio.ByteBuffer;
import java.nio.charset.CharacterCodingException;
import java.nio.charset.Charset;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVRecord;
import org.rootling.platform.Refused;

/**
 * A delimited text file taken apart: which encoding and delimiter it has, and its cells.
 *
 * @param encoding name of the encoding it was read with
 * @param delimiter what stands between cells
 * @param rows its lines with anything on them
 */
public record CsvTable(String encoding, char delimiter, List<Row> rows) {
    /** More days than two centuries have. */
    public static final int MOST_ROWS = 80_000;

    private static final int MOST_CELLS = 200;
    private static final int LONGEST_CELL = 2_000;
    private static final char[] DELIMITERS = {',', ';', '\t', '|'};

    /**
     * One line.
     *
     * @param line its number in the file, from 1
     * @param cells its cells, without white space around them
     */
    public record Row(long line, List<String> cells) {
        public Row {
            cells = List.copyOf(cells);
        }

        String cell(int i) {
            return i < cells.size() ? cells.get(i) : "";
        }
    }

    public CsvTable {
        rows = List.copyOf(rows);
    }

    /** Reads a file; refuses what is not a table of text. */
    public static CsvTable read(byte[] bytes) {
        if (bytes.length == 0) {
            throw new Refused("weather.import.empty-file").at("file");
        }
        Charset charset = charset(bytes);
        String text = new String(bytes, charset);
        if (text.startsWith("\uFEFF")) {
            text = text.substring(1);
        }
        if (text.indexOf('\0') >= 0) {
            throw new Refused("weather.import.not-text").at("file");
        }
        char delimiter = delimiter(text);
        List<Row> rows = rows(text, delimiter);
        if (rows.isEmpty()) {
            throw new Refused("weather.import.empty-file").at("file");
        }
        return new CsvTable(charset.name(), delimiter, rows);
    }

    private static Charset charset(byte[] bytes) {
        if (bytes.length >= 2 && bytes[0] == (byte) 0xFF && bytes[1] == (byte) 0xFE) {
            return StandardCharsets.UTF_16LE;
        }
        if (bytes.length >= 2 && bytes[0] == (byte) 0xFE && bytes[1] == (byte) 0xFF) {
            return StandardCharsets.UTF_16BE;
        }
        try {
            StandardCharsets.UTF_8
                    .newDecoder()
                    .onMalformedInput(CodingErrorAction.REPORT)
                    .decode(ByteBuffer.wrap(bytes));
            return StandardCharsets.UTF_8;
        } catch (CharacterCodingException notUtf8) {
            return Charset.forName("windows-1252");
        }
    }

    /** The delimiter that splits a quarter of the first lines, or more, into the most cells. */
    private static char delimiter(String text) {
        char best = ',';
        int most = 0;
        for (char candidate : DELIMITERS) {
            int[] counts = text.lines()
                    .limit(40)
                    .mapToInt(line -> Math.toIntExact(
                            line.chars().filter(c -> c == candidate).count()))
                    .sorted()
                    .toArray();
            int cells = counts.length == 0 ? 0 : counts[counts.length * 3 / 4];
            // A comma may be the decimal sign; any other delimiter that is there at all goes before it.
            if (cells > most || (best == ',' && candidate != ',' && cells >= 1 && cells * 2 >= most)) {
                most = cells;
                best = candidate;
            }
        }
        return best;
    }

    private static List<Row> rows(String text, char delimiter) {
        CSVFormat format = CSVFormat.DEFAULT
                .builder()
                .setDelimiter(delimiter)
                .setIgnoreEmptyLines(true)
                .setLenientEof(true)
                .setTrailingData(true)
                .setIgnoreSurroundingSpaces(true)
                .get();
        List<Row> rows = new ArrayList<>();
        try (CSVParser parser = format.parse(new StringReader(text))) {
            for (CSVRecord line : parser) {
                if (rows.size() == MOST_ROWS) {
                    throw new Refused("weather.import.too-many-rows", MOST_ROWS).at("file");
                }
                rows.add(new Row(parser.getCurrentLineNumber(), cells(line)));
            }
        } catch (IOException | UncheckedIOException | IllegalStateException unreadable) {
            throw new Refused("weather.import.unreadable", rows.size() + 1).at("file");
        }
        rows.removeIf(row -> row.cells().stream().allMatch(String::isEmpty));
        return rows;
    }

    private static List<String> cells(CSVRecord line) {
        List<String> cells = new ArrayList<>();
        for (int i = 0; i < Math.min(line.size(), MOST_CELLS); i++) {
            String cell = line.get(i).strip();
            cells.add(cell.length() > LONGEST_CELL ? cell.substring(0, LONGEST_CELL) : cell);
        }
        return cells;
    }
}
