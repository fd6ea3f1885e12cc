package org.rootling.exchange.domain;

import java.io.Closeable;
import java.io.IOException;
import java.io.InputStream;
import java.io.InputStreamReader;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.Reader;
import java.io.Writer;
import java.nio.charset.CodingErrorAction;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.Iterator;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVParser;
import org.apache.commons.csv.CSVPrinter;
import org.apache.commons.csv.CSVRecord;
import org.apache.commons.csv.QuoteMode;
import org.jspecify.annotations.Nullable;

/**
 * CSV (RFC 4180, UTF-8) that can be read back to the last value: a cell without quotes is nothing, one with quotes is
 * text, be it empty. Text that a spreadsheet would run as a formula carries an apostrophe more in front.
 */
final class ExactCsv {

    /** Longest record that is read, in characters; a shape of 200,000 characters fits many times. */
    private static final int LONGEST = 4_000_000;

    private static final String RISKY = "=+-@\t\r\n'";

    private static final CSVFormat FORMAT = CSVFormat.RFC4180
            .builder()
            .setQuoteMode(QuoteMode.ALL_NON_NULL)
            .setNullString("")
            .get();

    private ExactCsv() {}

    /** Writes records one by one; the stream is flushed, not closed. */
    static final class Out {
        private final CSVPrinter printer;

        Out(OutputStream out, List<String> columns) throws IOException {
            Writer writer = new OutputStreamWriter(out, StandardCharsets.UTF_8);
            CSVFormat.RFC4180.print(writer).printRecord(columns);
            this.printer = FORMAT.print(writer);
        }

        void write(List<@Nullable String> cells) throws IOException {
            for (String cell : cells) {
                printer.print(guarded(cell));
            }
            printer.println();
        }

        void flush() throws IOException {
            printer.flush();
        }
    }

    /** Reads records one by one. */
    static final class In implements Closeable {
        private final Bounded bounded;
        private final CSVParser parser;
        private final Iterator<CSVRecord> records;
        private final List<String> columns;

        In(InputStream in) throws IOException {
            this.bounded = new Bounded(new InputStreamReader(
                    in,
                    StandardCharsets.UTF_8
                            .newDecoder()
                            .onMalformedInput(CodingErrorAction.REPORT)
                            .onUnmappableCharacter(CodingErrorAction.REPORT)));
            this.parser = FORMAT.parse(bounded);
            this.records = parser.iterator();
            this.columns = records.hasNext() ? List.of(records.next().values()) : List.of();
        }

        List<String> columns() {
            return columns;
        }

        boolean hasNext() {
            bounded.left = LONGEST;
            return records.hasNext();
        }

        List<@Nullable String> next() throws IOException {
            CSVRecord read = records.next();
            if (read.size() != columns.size()) {
                throw new IOException("a record of " + read.size() + " cells under " + columns.size() + " headings");
            }
            List<@Nullable String> cells = new ArrayList<>(read.size());
            for (String cell : read.values()) {
                cells.add(plain(cell));
            }
            return cells;
        }

        @Override
        public void close() throws IOException {
            parser.close();
        }
    }

    static @Nullable String guarded(@Nullable String text) {
        return text != null && !text.isEmpty() && RISKY.indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }

    /** Takes the apostrophe away again. */
    static @Nullable String plain(@Nullable String text) {
        return text != null && text.startsWith("'") ? text.substring(1) : text;
    }

    /** Ends a record that never ends, before it fills the memory. */
    private static final class Bounded extends Reader {
        private final Reader in;
        private int left = LONGEST;

        Bounded(Reader in) {
            this.in = in;
        }

        @Override
        public int read(char[] into, int from, int length) throws IOException {
            int read = in.read(into, from, length);
            left -= Math.max(read, 0);
            if (left < 0) {
                throw new IOException("a record is too long");
            }
            return read;
        }

        @Override
        public void close() throws IOException {
            in.close();
        }
    }
}
