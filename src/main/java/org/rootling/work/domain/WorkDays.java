package org.rootling.work.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.UUID;
import java.util.stream.Collectors;
import org.rootling.nursery.CalendarSource;
import org.rootling.people.Vineyards;
import org.springframework.stereotype.Component;

/** A person's scheduled work in their calendar: one entry for each day on which they have something to do by the clock. */
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
        List<Day> days = new ArrayList<>();
        for (DaySheets.Sheet sheet : sheets.of(accountId, vineyards.today(), AHEAD)) {
            // What is merely due stands in the calendar by its due day.
            List<DaySheets.Item> timed =
                    sheet.items().stream().filter(i -> !i.from().isEmpty()).toList();
            if (!timed.isEmpty()) {
                days.add(new Day(
                        "work-" + accountId + "-" + sheet.date(),
                        sheet.date(),
                        title(timed),
                        text(timed),
                        "/my-day/sheet"));
            }
        }
        return days;
    }

    private static String title(List<DaySheets.Item> items) {
        List<String> what = items.stream()
                .map(i -> i.task().stepName() + " " + i.task().row())
                .distinct()
                .toList();
        return String.join(", ", what.subList(0, Math.min(3, what.size()))) + (what.size() > 3 ? " \u2026" : "");
    }

    private static String text(List<DaySheets.Item> items) {
        return items.stream()
                .map(i -> i.from()
                        + "\u2013"
                        + i.to()
                        + " "
                        + i.task().stepName()
                        + " "
                        + i.task().row()
                        + " "
                        + i.left())
                .collect(Collectors.joining("\n"));
    }
}
