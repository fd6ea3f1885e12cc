package org.rootling.work.domain;

import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;
import org.rootling.nursery.CalendarSource;
import org.rootling.people.Vineyards;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/**
 * A person's tasks in their private calendar: one day for each step in a block, on the earliest due day, with its rows, so
 * that a step on many rows does not fill the calendar. Tasks without a due day are left out.
 */
@Component
class TaskDays implements CalendarSource {

    private final Tasks tasks;
    private final Vineyards vineyards;
    private final MessageSource messages;

    TaskDays(Tasks tasks, Vineyards vineyards, MessageSource messages) {
        this.tasks = tasks;
        this.vineyards = vineyards;
        this.messages = messages;
    }

    @Override
    public List<Day> days(UUID accountId) {
        Map<String, List<Task>> together = new LinkedHashMap<>();
        for (Task task : tasks.forHelper(accountId, vineyards.today())) {
            if (task.due() != null) {
                together.computeIfAbsent(task.step() + "-" + task.blockCode(), k -> new ArrayList<>())
                        .add(task);
            }
        }
        List<Day> days = new ArrayList<>();
        together.forEach((key, of) -> days.add(day(key, of)));
        return days;
    }

    private Day day(String key, List<Task> of) {
        Locale locale = LocaleContextHolder.getLocale();
        DateTimeFormatter format = DateTimeFormatter.ofPattern("EEE d MMM", locale);
        Task first = of.get(0);
        LocalDate due = LocalDate.MAX;
        int left = 0;
        StringBuilder text = new StringBuilder();
        for (Task task : of) {
            LocalDate day = task.due();
            if (day != null) {
                due = day.isBefore(due) ? day : due;
                left += task.quantity() - task.done();
                text.append(messages.getMessage(
                                "work.calendar.row",
                                new Object[] {task.row(), task.quantity() - task.done(), format.format(day)},
                                locale))
                        .append('\n');
            }
        }
        String title = messages.getMessage(
                "work.calendar.title", new Object[] {first.stepName(), first.blockCode(), of.size(), left}, locale);
        return new Day("task-" + key, due, title, text.toString().strip(), "/my-day");
    }
}
