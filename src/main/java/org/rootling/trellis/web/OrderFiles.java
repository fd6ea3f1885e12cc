package org.rootling.trellis.web;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.math.BigDecimal;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVPrinter;
import org.dhatim.fastexcel.Workbook;
import org.dhatim.fastexcel.Worksheet;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.CellText;
import org.rootling.trellis.calc.Item;
import org.rootling.trellis.domain.OrderSheet;
import org.springframework.stereotype.Component;

/**
 * The order sheet as CSV and XLSX: the same table, numbers as numbers, quantities in the reader's unit, which stands in
 * the second column.
 */
@Component
class OrderFiles {
    private static final List<String> HEADS = List.of(
            "item",
            "unit",
            "plans-need",
            "spare",
            "needed",
            "change",
            "bought",
            "to-buy",
            "pack",
            "packs",
            "price",
            "cost");

    private final Words words;

    OrderFiles(Words words) {
        this.words = words;
    }

    /** UTF-8 with a byte order mark, so that spreadsheets read it rightly. */
    byte[] csv(OrderSheet sheet) {
        StringBuilder out = new StringBuilder("\uFEFF");
        try (CSVPrinter printer = new CSVPrinter(out, CSVFormat.RFC4180)) {
            for (List<@Nullable Object> row : table(sheet)) {
                printer.printRecord(row.stream().map(OrderFiles::guarded).toList());
            }
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        }
        return out.toString().getBytes(StandardCharsets.UTF_8);
    }

    byte[] xlsx(OrderSheet sheet) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (Workbook book = new Workbook(out, "Rootling", "1.0")) {
            Worksheet page = book.newWorksheet(words.say("trellis.order.sheet-name"));
            int r = 0;
            for (List<@Nullable Object> row : table(sheet)) {
                for (int c = 0; c < row.size(); c++) {
                    Object value = row.get(c);
                    if (value instanceof BigDecimal number) {
                        page.value(r, c, number);
                    } else if (value != null) {
                        page.value(r, c, value.toString());
                    }
                }
                r++;
            }
            page.range(0, 0, 0, HEADS.size() - 1).style().bold().set();
            page.width(0, 42);
            page.freezePane(1, 1);
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        }
        return out.toByteArray();
    }

    private List<List<@Nullable Object>> table(OrderSheet sheet) {
        List<List<@Nullable Object>> rows = new ArrayList<>();
        List<@Nullable Object> heads = new ArrayList<>();
        HEADS.forEach(h -> heads.add(words.say("trellis.order.head." + h)));
        rows.add(heads);
        for (OrderSheet.Line line : sheet.lines()) {
            List<@Nullable Object> row = new ArrayList<>();
            Item item = line.order().item();
            row.add(words.name(item));
            row.add(words.unit(item));
            row.add(quantity(item, rounded(item.quantity())));
            row.add(plain(line.order().terms().sparePercent()));
            row.add(quantity(item, line.order().needed()));
            row.add(quantity(item, line.change()));
            row.add(quantity(item, line.order().bought()));
            row.add(quantity(item, line.order().toBuy()));
            row.add(quantity(item, line.order().terms().packSize()));
            row.add(BigDecimal.valueOf(line.order().packs()));
            row.add(line.order().terms().packPrice());
            row.add(line.order().cost());
            rows.add(row);
        }
        rows.add(sum(words.say("trellis.order.delivery"), sheet.delivery()));
        String total = sheet.unpriced() == 0
                ? words.say("trellis.order.total")
                : words.say("trellis.order.total-without", sheet.unpriced());
        rows.add(sum(
                sheet.currency() == null ? total : total + ", " + sheet.currency(),
                sheet.totalKnown() ? sheet.total() : null));
        return rows;
    }

    private static List<@Nullable Object> sum(String label, @Nullable BigDecimal amount) {
        List<@Nullable Object> row = new ArrayList<>();
        row.add(label);
        for (int i = 1; i < HEADS.size() - 1; i++) {
            row.add(null);
        }
        row.add(amount);
        return row;
    }

    private static BigDecimal rounded(double quantity) {
        return BigDecimal.valueOf(Math.round(quantity * 100), 2).stripTrailingZeros();
    }

    private static @Nullable BigDecimal quantity(Item item, @Nullable BigDecimal value) {
        return value == null ? null : plain(Words.shown(item, value));
    }

    /** A quantity without trailing zeros; money keeps its two decimals. */
    private static BigDecimal plain(BigDecimal value) {
        return value.signum() == 0 ? BigDecimal.ZERO : value.stripTrailingZeros();
    }

    /** Numbers plain; text that a spreadsheet would take for a formula is kept from it by an apostrophe. */
    static @Nullable Object guarded(@Nullable Object value) {
        if (value instanceof BigDecimal number) {
            return number.toPlainString();
        }
        return value instanceof String text ? CellText.harmless(text) : value;
    }
}
