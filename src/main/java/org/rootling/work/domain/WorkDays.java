package org.rootling.work.domain;

import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import org.rootling.nursery.CalendarSource;
import org.rootling.people.Vineyards;
import org.springframework.stereotype.Component;

/** A person's work in their calendar: one entry for each day on which they have something to do. */
@Component
class WorkDays implements CalendarSource {
    private static final int AHEAD = 60;

    private final DaySheets sheets;
    private final Vineyards vineyards;

    WorkDays(DaySheets sheets, Vineyards vineyards) {
        this.sheets = sheets;
        this.vineyards = vineyards;
    }

    @Override
    public List<Day> days(UUID accountId) {
        return sheets.of(accountId, vineyards.today(), AHEAD).stream()
                .map(s -> new Day("work-" + accountId + "-" + s.date(), s.date(), title(s), text(s), "/my-day/sheet"))
                .toList();
    }

    private static String title(DaySheets.Sheet sheet) {
        List<String> what = sheet.items().stream()
                .map(i -> i.task().stepName() + " " + i.task().row())
                .distinct()
                .toList();
        return String.join(", ", what.subList(0, Math.min(3, what.size()))) + (what.size() > 3 ? " \u2026" : "");
    }

    private static String text(DaySheets.Sheet sheet) {
        return sheet.items().stream()
                .map(i -> (i.from().isEmpty() ? "" : i.from() + "\u2013" + i.to() + " ")
                        + i.task().stepName()
                        + " "
                        + i.task().row()
                        + " "
                        + i.left())
                .collect(Collectors.joining("\n"));
    }
}
