package org.rootling.exchange;

import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.time.LocalDateTime;
import java.time.temporal.ChronoUnit;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.dhatim.fastexcel.Workbook;
import org.dhatim.fastexcel.Worksheet;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.CellText;

/** Writes sheets as CSV (RFC 4180, UTF-8) and as XLSX, row by row. */
public final class Spreadsheets {

    /** Rows of a worksheet, fixed by the format (ECMA-376). */
    static final int MOST_ROWS = 1_048_576;

    private Spreadsheets() {}

    /** One sheet as CSV; the stream is flushed, not closed. */
    public static void csv(Sheet sheet, OutputStream out) {
        try {
            Writer writer = new OutputStreamWriter(out, StandardCharsets.UTF_8);
            CSVPrinter printer = CSVFormat.RFC4180.print(writer);
            printer.printRecord(sheet.columns());
            while (sheet.rows().hasNext()) {
                for (Object cell : sheet.rows().next()) {
                    printer.print(csvCell(cell));
                }
                printer.println();
            }
            printer.flush();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    /** Sheets as one workbook; the stream is flushed, not closed. A sheet too long for the format goes on in a next. */
    public static void xlsx(List<Sheet> sheets, OutputStream out) {
        try (Workbook book = new Workbook(out, "Rootling", "1.0")) {
            for (Sheet sheet : sheets) {
                Worksheet page = page(book, sheet, 1);
                int line = 1;
                int part = 1;
                while (sheet.rows().hasNext()) {
                    List<? extends @Nullable Object> row = sheet.rows().next();
                    if (line == MOST_ROWS) {
                        page.finish();
                        page = page(book, sheet, ++part);
                        line = 1;
                    }
                    for (int column = 0; column < row.size(); column++) {
                        cell(page, line, column, row.get(column));
                    }
                    line++;
                    if (line % 1000 == 0) {
                        page.flush();
                    }
                }
                page.finish();
            }
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    private static Worksheet page(Workbook book, Sheet sheet, int part) {
        Worksheet page = book.newWorksheet(part == 1 ? sheet.name() : sheet.name() + " " + part);
        for (int column = 0; column < sheet.columns().size(); column++) {
            page.value(0, column, sheet.columns().get(column));
            page.style(0, column).bold().set();
        }
        page.freezePane(0, 1);
        return page;
    }

    private static void cell(Worksheet page, int row, int column, @Nullable Object cell) {
        if (cell instanceof Number number) {
            page.value(row, column, number);
        } else if (cell instanceof LocalDate date) {
            page.value(row, column, date);
            page.style(row, column).format("yyyy-mm-dd").set();
        } else if (cell instanceof LocalDateTime time) {
            page.value(row, column, time);
            page.style(row, column).format("yyyy-mm-dd hh:mm").set();
        } else if (cell instanceof Boolean truth) {
            page.value(row, column, truth);
        } else if (cell != null) {
            String text = cell.toString();
            // Longest text a cell may hold (ECMA-376); a longer one would make the whole file unreadable.
            page.value(row, column, text.length() > 32_767 ? text.substring(0, 32_767) : text);
        }
    }

    /** A cell as text; one that is no number is made harmless. */
    static @Nullable String csvCell(@Nullable Object cell) {
        if (cell == null) {
            return null;
        }
        String text = cell instanceof LocalDateTime time
                ? time.toLocalDate() + " " + time.toLocalTime().truncatedTo(ChronoUnit.MINUTES)
                : cell instanceof BigDecimal number ? number.toPlainString() : cell.toString();
        return cell instanceof Number ? text : CellText.harmless(text);
    }
}
