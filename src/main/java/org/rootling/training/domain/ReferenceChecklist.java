package org.rootling.training.domain;

import java.util.List;
import org.apache.commons.csv.CSVRecord;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Ids;
import org.rootling.platform.ShippedData;
import org.rootling.training.CareItem;

/** Our own list to begin with, from shared/reference/year-one-checklist.csv. */
final class ReferenceChecklist {

    private ReferenceChecklist() {}

    /** The items with new ids. */
    static List<CareItem> items() {
        return ShippedData.lines("year-one-checklist.csv").stream()
                .map(ReferenceChecklist::item)
                .toList();
    }

    private static CareItem item(CSVRecord line) {
        return new CareItem(
                Ids.next(),
                line.get("code"),
                Integer.parseInt(line.get("position")),
                line.get("name"),
                CareRules.of(
                        CareRules.Kind.valueOf(line.get("timing")),
                        line.get("value"),
                        number(line.get("or_after_days")),
                        Integer.parseInt(line.get("window_days")),
                        number(line.get("repeat_days")),
                        text(line.get("until"))),
                null,
                line.get("why"),
                line.get("how"),
                text(line.get("caution")),
                text(line.get("step")),
                line.get("source"),
                line.get("how_known"),
                0);
    }

    private static @Nullable String text(String cell) {
        return cell.isEmpty() ? null : cell;
    }

    private static @Nullable Integer number(String cell) {
        return cell.isEmpty() ? null : Integer.valueOf(cell);
    }
}
