package org.rootling.work.web;

import com.fasterxml.jackson.annotation.JsonInclude;
import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Positive;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.time.DayOfWeek;
import java.time.Duration;
import java.time.LocalDate;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.rootling.work.calc.Helper;
import org.rootling.work.calc.Job;
import org.rootling.work.calc.OrderCheck;
import org.rootling.work.calc.OrderFault;
import org.rootling.work.calc.Pin;
import org.rootling.work.calc.Schedule;
import org.rootling.work.calc.ScheduleSearch;
import org.rootling.work.calc.Stint;
import org.rootling.work.calc.Tool;
import org.rootling.work.calc.WorkOrder;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RestController;

/** A schedule for an order that is sent along; stores nothing. */
@RestController
class SchedulePreviewApi {
    /** Searches at a time on one node: each takes a core. */
    private static final int AT_ONCE = 2;

    private static final Map<String, DayOfWeek> DAYS = Map.of(
            "MON", DayOfWeek.MONDAY,
            "TUE", DayOfWeek.TUESDAY,
            "WED", DayOfWeek.WEDNESDAY,
            "THU", DayOfWeek.THURSDAY,
            "FRI", DayOfWeek.FRIDAY,
            "SAT", DayOfWeek.SATURDAY,
            "SUN", DayOfWeek.SUNDAY);

    /** The order as sent. */
    record OrderIn(
            @NotNull @SaneDate LocalDate start,
            @NotNull @Size(max = 64) List<@NotNull @Valid PersonIn> people,
            @Nullable @Size(max = 200) List<@NotNull @Valid ToolIn> tools,
            @NotNull @Size(max = 2000) List<@NotNull @Valid TaskIn> tasks,
            @Nullable @Size(max = 2000) List<@NotNull @Valid PinIn> pinned,
            @Nullable @DecimalMin("0") @DecimalMax("60") BigDecimal seconds) {}

    /** A person: hours by weekday from MON to SUN, working from 08:00. */
    record PersonIn(
            @NotBlank @Size(max = 100) String id,
            @NotNull Map<String, @NotNull @DecimalMin("0") @DecimalMax("16") BigDecimal> hours,
            @Nullable @Size(max = 100) List<@NotBlank @Size(max = 100) String> skills,
            @Nullable @Size(max = 2000) List<@NotNull @SaneDate LocalDate> daysOff) {}

    /** A tool, of which there are so many. */
    record ToolIn(
            @NotBlank @Size(max = 100) String id,
            @Nullable @Min(0) @Max(1000) Integer count) {}

    /** A task. */
    record TaskIn(
            @NotBlank @Size(max = 100) String id,
            @NotNull @Positive @DecimalMax("10000") BigDecimal personHours,
            @Nullable @Min(1) @Max(64) Integer minPeople,
            @Nullable @Min(1) @Max(1000) Integer maxPeople,
            @Nullable @Size(max = 100) String skill,
            @Nullable @Size(max = 100) String tool,
            @Nullable @Size(max = 500) List<@NotBlank @Size(max = 100) String> after,
            @Nullable @Min(0) @Max(365) Integer waitDays,
            @Nullable @SaneDate LocalDate earliest,
            @Nullable @SaneDate LocalDate due,
            @Nullable @Min(0) @Max(1_000_000) Long weight) {}

    /** A fixed choice. */
    record PinIn(
            @NotBlank @Size(max = 100) String task,
            @NotBlank @Size(max = 100) String person,
            @NotNull @SaneDate LocalDate date) {}

    /** The answer. */
    record PlanOut(
            List<AssignmentOut> assignments,
            @Nullable LocalDate finish,
            List<LateOut> late,
            List<String> unplanned,
            BoundOut bound,
            long weightedLateDays,
            String state) {}

    /** One person on one task without a break. */
    record AssignmentOut(String task, String person, LocalDate date, String from, String to) {}

    /** A task that ends late. */
    @JsonInclude(JsonInclude.Include.ALWAYS)
    record LateOut(String task, long days, long weight) {}

    /** What no schedule can undercut. */
    record BoundOut(@Nullable LocalDate finish, long weightedLateDays) {}

    private final Semaphore searches = new Semaphore(AT_ONCE, true);

    @PostMapping("/api/v1/schedule-previews")
    @Needs(Role.READER)
    PlanOut preview(@Valid @RequestBody OrderIn in) throws InterruptedException {
        WorkOrder order = order(in);
        OrderCheck.fault(order).ifPresent(SchedulePreviewApi::refuse);
        BigDecimal seconds = in.seconds() == null ? BigDecimal.valueOf(5) : in.seconds();
        if (!searches.tryAcquire(60, TimeUnit.SECONDS)) {
            throw new Refused("work.schedule.busy");
        }
        try {
            return out(ScheduleSearch.best(
                    order, Duration.ofMillis(seconds.movePointRight(3).longValue())));
        } finally {
            searches.release();
        }
    }

    static void refuse(OrderFault fault) {
        Object[] names = fault.kind() == OrderFault.Kind.CIRCLE
                ? new Object[] {String.join(" \u2192 ", fault.names())}
                : fault.names().toArray();
        throw new Refused("work.schedule.fault." + fault.kind(), names);
    }

    private static WorkOrder order(OrderIn in) {
        List<Helper> people = in.people().stream()
                .map(p -> new Helper(p.id(), quarters(p), set(p.skills()), set(p.daysOff())))
                .toList();
        List<Tool> tools = in.tools() == null
                ? List.of()
                : in.tools().stream()
                        .map(t -> new Tool(t.id(), t.count() == null ? 1 : t.count()))
                        .toList();
        List<Job> jobs = in.tasks().stream().map(SchedulePreviewApi::job).toList();
        List<Pin> pins = in.pinned() == null
                ? List.of()
                : in.pinned().stream()
                        .map(p -> new Pin(p.task(), p.person(), p.date()))
                        .toList();
        return new WorkOrder(in.start(), people, tools, jobs, pins);
    }

    private static Map<DayOfWeek, Integer> quarters(PersonIn p) {
        Map<DayOfWeek, Integer> quarters = new EnumMap<>(DayOfWeek.class);
        p.hours().forEach((day, hours) -> {
            DayOfWeek weekday = DAYS.get(day);
            if (weekday == null) {
                throw new Refused("work.schedule.weekday", day.substring(0, Math.min(20, day.length())));
            }
            quarters.put(weekday, hours.multiply(BigDecimal.valueOf(4)).intValue());
        });
        return quarters;
    }

    private static Job job(TaskIn t) {
        int min = t.minPeople() == null ? 1 : t.minPeople();
        int max = t.maxPeople() == null ? Math.max(1, min) : t.maxPeople();
        if (max < min) {
            throw new Refused("work.schedule.crew", t.id(), min, max);
        }
        return new Job(
                t.id(),
                t.personHours()
                        .multiply(BigDecimal.valueOf(4))
                        .setScale(0, java.math.RoundingMode.CEILING)
                        .intValueExact(),
                min,
                max,
                blank(t.skill()),
                blank(t.tool()),
                t.after() == null ? List.of() : t.after(),
                t.waitDays() == null ? 0 : t.waitDays(),
                t.earliest(),
                t.due(),
                t.weight() == null ? 1 : t.weight(),
                null);
    }

    private static @Nullable String blank(@Nullable String text) {
        return text == null || text.isBlank() ? null : text;
    }

    private static <T> Set<T> set(@Nullable List<T> list) {
        return list == null ? Set.of() : new HashSet<>(list);
    }

    private static PlanOut out(Schedule s) {
        return new PlanOut(
                s.stints().stream()
                        .map(t -> new AssignmentOut(
                                t.job(), t.helper(), t.date(), Stint.clock(t.from()), Stint.clock(t.to())))
                        .toList(),
                s.finish(),
                s.late().stream()
                        .map(l -> new LateOut(l.job(), l.days(), l.weight()))
                        .toList(),
                s.unplanned(),
                new BoundOut(s.bound().finish(), s.bound().weightedLateDays()),
                s.weightedLateDays(),
                s.proven() ? "proven best" : "best known");
    }
}
