package org.rootling.exchange;

import java.util.Iterator;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * A table on its way out: one sheet of a workbook or one CSV file.
 *
 * @param name short, without characters that file names or sheet names cannot hold
 * @param columns headings
 * @param rows cells of text, numbers, dates, truth values or nothing; read once, so that it may come from a cursor
 */
public record Sheet(String name, List<String> columns, Iterator<? extends List<? extends @Nullable Object>> rows) {

    public Sheet {
        columns = List.copyOf(columns);
    }

    /** A table whose rows are all there. */
    public static Sheet of(String name, List<String> columns, List<? extends List<? extends @Nullable Object>> rows) {
        return new Sheet(name, columns, rows.iterator());
    }
}
