package org.rootling.work.domain;

import jakarta.annotation.PreDestroy;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.Future;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.Refused;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.rootling.work.calc.OrderCheck;
import org.rootling.work.calc.OrderFault;
import org.rootling.work.calc.Replan;
import org.rootling.work.calc.Schedule;
import org.rootling.work.calc.ScheduleSearch;
import org.rootling.work.calc.Stint;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import tools.jackson.databind.json.JsonMapper;

/** Schedules of the open tasks. A search runs in the background and writes its best answer so far to the database. */
@Service
public class ScheduleService {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final OrderBuilder orders;
    private final CrewService crew;
    private final Tasks tasks;
    private final Vineyards vineyards;
    private final JdbcClient jdbc;
    private final BackgroundRuns runs;

    ScheduleService(OrderBuilder orders, CrewService crew, Tasks tasks, Vineyards vineyards, JdbcClient jdbc) {
        this.orders = orders;
        this.crew = crew;
        this.tasks = tasks;
        this.vineyards = vineyards;
        this.jdbc = jdbc;
        runs = new BackgroundRuns("work_schedule", 3, jdbc);
    }

    /** How a search stands, or ended. */
    public record Run(
            UUID id,
            String state,
            LocalDate starts,
            Instant startedAt,
            int seconds,
            int answers,
            @Nullable LocalDate finish,
            @Nullable Long late,
            @Nullable LocalDate boundFinish,
            @Nullable Long boundLate,
            boolean proven) {
        public boolean running() {
            return state.equals("RUNNING");
        }
    }

    /** Work of one person on one task, in wall clock time. */
    public record Slot(
            @Nullable Task task, UUID personId, String person, LocalDate date, String from, String to, int quarters) {}

    /**
     * What one person does on a day, by the clock.
     *
     * @param person their name, marked where others have the same
     */
    public record PersonDay(UUID id, String person, List<Slot> slots) {}

    /** What everybody does on a day: by name, each person by themselves. */
    public record Day(LocalDate date, List<PersonDay> people) {}

    /** When and by whom a task is begun. */
    public record Begin(LocalDate date, String time, String people) {}

    /**
     * A task that is not where it was in the schedule before.
     *
     * @param why name of a {@link Replan.Why}, or SEARCHED after a new search
     * @param by whom or what it is about, in words; empty where the reason says all
     */
    public record Moved(Task task, Begin from, Begin to, String why, String by) {}

    /** Starts a search for a schedule that begins on a day; when keeping, moves only what must move. */
    public UUID start(LocalDate from, int seconds, boolean keep) {
        OrderBuilder.Built built = orders.order(from);
        if (built.order().helpers().isEmpty()) {
            throw new Refused("work.schedule.no-people");
        }
        if (built.order().jobs().isEmpty()) {
            throw new Refused("work.schedule.nothing");
        }
        Optional<OrderFault> fault = OrderCheck.fault(built.order());
        if (fault.isPresent()) {
            throw refused(fault.get());
        }
        if (latest().filter(Run::running).isPresent()) {
            throw new Refused("work.schedule.running");
        }
        List<Stint> before = keep ? standingStints() : List.of();
        UUID id = Ids.next();
        Timestamp now = Timestamp.from(vineyards.now());
        jdbc.sql("insert into work_schedule (id, state, starts_on, started_at, heard_at, seconds)"
                        + " values (:id, 'RUNNING', :from, :now, now(), :seconds)")
                .param("id", id)
                .param("from", from)
                .param("now", now)
                .param("seconds", seconds)
                .update();
        runs.start(id, () -> run(id, built, seconds, before));
        return id;
    }

    /** Ids stand for tasks and people: say their names. */
    private Refused refused(OrderFault fault) {
        Map<String, String> names = new HashMap<>();
        tasks.open().forEach(t -> names.put(t.id().toString(), t.stepName() + " " + t.row()));
        crew.names().forEach((id, name) -> names.put(id.toString(), name));
        List<String> said =
                fault.names().stream().map(n -> names.getOrDefault(n, n)).toList();
        Object[] args =
                fault.kind() == OrderFault.Kind.CIRCLE ? new Object[] {String.join(" \u2192 ", said)} : said.toArray();
        return new Refused("work.schedule.fault." + fault.kind(), args);
    }

    private void run(UUID id, OrderBuilder.Built built, int seconds, List<Stint> before) {
        int[] answers = new int[1];
        long[] saved = new long[1];
        ScheduleSearch search = new ScheduleSearch(built.order(), s -> {
            answers[0]++;
            if (System.nanoTime() - saved[0] > 500_000_000L) {
                saved[0] = System.nanoTime();
                save(id, s, answers[0], "RUNNING", null);
            }
        });
        Future<?> watch = runs.whenStopAsked(id, search::cancel);
        try {
            if (before.isEmpty()) {
                Schedule best = search.run(Duration.ofSeconds(seconds), Long.MAX_VALUE);
                save(id, best, Math.max(1, answers[0]), runs.stopAsked(id) ? "CANCELLED" : "DONE", null);
            } else {
                Replan.Result again = Replan.of(built.order(), before);
                save(id, again.schedule(), 1, "DONE", again.moves());
            }
        } finally {
            watch.cancel(false);
        }
    }

    private void save(UUID id, Schedule s, int answers, String state, @Nullable List<Replan.Move> moves) {
        int n = s.stints().size();
        String[] job = new String[n];
        String[] person = new String[n];
        String[] day = new String[n];
        Integer[] from = new Integer[n];
        Integer[] to = new Integer[n];
        for (int i = 0; i < n; i++) {
            Stint t = s.stints().get(i);
            job[i] = t.job();
            person[i] = t.helper();
            day[i] = t.date().toString();
            from[i] = t.from();
            to[i] = t.to();
        }
        jdbc.sql("""
                        update work_schedule set state = :state, heard_at = now(), answers = :answers, finish = :finish,
                          late = :late, unplanned = :unplanned, moves = cast(:moves as jsonb), bound_finish = :boundFinish, bound_late = :boundLate, proven = :proven,
                          stints = coalesce((select jsonb_agg(jsonb_build_object('t', t, 'p', p, 'd', d, 'f', f, 'u', u))
                            from unnest(cast(:job as text[]), cast(:person as text[]), cast(:day as date[]),
                              cast(:from as int[]), cast(:to as int[])) as x(t, p, d, f, u)), '[]')
                         where id = :id""")
                .param("id", id)
                .param("state", state)
                .param("answers", answers)
                .param("finish", s.finish())
                .param("late", s.weightedLateDays())
                .param("unplanned", s.unplanned().toArray(String[]::new))
                .param("moves", JSON.writeValueAsString(moves == null ? List.of() : moves))
                .param("boundFinish", s.bound().finish())
                .param("boundLate", s.bound().weightedLateDays())
                .param("proven", s.proven())
                .param("job", job)
                .param("person", person)
                .param("day", day)
                .param("from", from)
                .param("to", to)
                .update();
    }

    public void cancel(UUID id) {
        runs.cancel(id);
    }

    /** The newest search, whether it runs or ended. */
    public Optional<Run> latest() {
        return runs.latest(ScheduleService::runOf);
    }

    private static Run runOf(ResultSet r, int n) throws SQLException {
        return new Run(
                r.getObject("id", UUID.class),
                BackgroundRuns.state(r),
                r.getObject("starts_on", LocalDate.class),
                r.getTimestamp("started_at").toInstant(),
                r.getInt("seconds"),
                r.getInt("answers"),
                r.getObject("finish", LocalDate.class),
                r.getObject("late", Long.class),
                r.getObject("bound_finish", LocalDate.class),
                r.getObject("bound_late", Long.class),
                r.getBoolean("proven"));
    }

    private record Stored(String task, String person, LocalDate date, int from, int to) {}

    private List<Stored> stints(UUID schedule) {
        return jdbc.sql("""
                        select x.t, x.p, x.d, x.f, x.u from work_schedule s,
                          jsonb_to_recordset(s.stints) as x(t text, p text, d date, f int, u int)
                         where s.id = :id order by x.d, x.f, x.p""")
                .param("id", schedule)
                .query((r, n) -> new Stored(
                        r.getString("t"),
                        r.getString("p"),
                        r.getObject("d", LocalDate.class),
                        r.getInt("f"),
                        r.getInt("u")))
                .list();
    }

    private List<Stint> standingStints() {
        return standing(1).stream()
                .findFirst()
                .map(id -> stints(id).stream()
                        .map(t -> new Stint(t.task(), t.person(), t.date(), t.from(), t.to()))
                        .toList())
                .orElse(List.of());
    }

    /** The newest finished schedules. */
    private List<UUID> standing(int count) {
        return jdbc.sql("select id from work_schedule where state in ('DONE', 'CANCELLED') and answers > 0"
                        + " order by started_at desc, id desc limit :count")
                .param("count", count)
                .query(UUID.class)
                .list();
    }

    /** The schedule in force, or the best so far of one that runs, day by day. */
    public List<Day> days(UUID schedule) {
        List<Stored> stints = stints(schedule);
        Map<String, Task> byId = taskNames(stints);
        Map<UUID, String> names = crew.names();
        Map<LocalDate, Map<UUID, List<Slot>>> days = new TreeMap<>();
        for (Stored s : stints) {
            UUID person = UUID.fromString(s.person());
            days.computeIfAbsent(s.date(), k -> new HashMap<>())
                    .computeIfAbsent(person, k -> new ArrayList<>())
                    .add(new Slot(
                            byId.get(s.task()),
                            person,
                            names.getOrDefault(person, "?"),
                            s.date(),
                            Stint.clock(s.from()),
                            Stint.clock(s.to()),
                            s.to() - s.from()));
        }
        return days.entrySet().stream()
                .map(e -> new Day(
                        e.getKey(),
                        e.getValue().entrySet().stream()
                                .map(p -> new PersonDay(p.getKey(), names.getOrDefault(p.getKey(), "?"), p.getValue()))
                                .sorted(Comparator.comparing(PersonDay::person, String.CASE_INSENSITIVE_ORDER)
                                        .thenComparing(PersonDay::id))
                                .toList()))
                .toList();
    }

    private Map<String, Task> taskNames(List<Stored> stints) {
        Set<UUID> ids = stints.stream().map(s -> UUID.fromString(s.task())).collect(Collectors.toSet());
        Map<String, Task> byId = new HashMap<>();
        tasks.byIds(ids).forEach(t -> byId.put(t.id().toString(), t));
        return byId;
    }

    /** Open tasks that are not where they were in the schedule before the one in force, and why. */
    public List<Moved> moved() {
        List<UUID> two = standing(2);
        if (two.size() < 2) {
            return List.of();
        }
        List<Stored> now = stints(two.get(0));
        List<Stored> before = stints(two.get(1));
        Map<String, Task> byId = taskNames(now);
        Map<String, String> names = new HashMap<>();
        crew.names().forEach((id, name) -> names.put(id.toString(), name));
        byId.forEach((id, t) -> names.put(id, t.stepName() + " " + t.row()));
        Map<String, Begin> begins = begins(now, names);
        Map<String, Begin> began = begins(before, names);
        Map<String, Replan.Move> reasons = reasons(two.get(0));
        LocalDate starts = startOf(two.get(0));
        List<Moved> moved = new ArrayList<>();
        begins.forEach((id, to) -> {
            Begin from = began.get(id);
            Task task = byId.get(id);
            Replan.Move move = reasons.get(id);
            boolean other = reasons.isEmpty() ? !to.equals(from) : move != null;
            if (from != null
                    && task != null
                    && task.status().isOpen()
                    && !from.date().isBefore(starts)
                    && other) {
                String by = move == null || move.by() == null ? "" : names.getOrDefault(move.by(), move.by());
                moved.add(new Moved(
                        task, from, to, move == null ? "SEARCHED" : move.why().name(), by));
            }
        });
        moved.sort(Comparator.comparing((Moved m) -> m.to().date())
                .thenComparing(m -> m.task().row()));
        return List.copyOf(moved);
    }

    private LocalDate startOf(UUID schedule) {
        return jdbc.sql("select starts_on from work_schedule where id = :id")
                .param("id", schedule)
                .query(LocalDate.class)
                .single();
    }

    private Map<String, Replan.Move> reasons(UUID schedule) {
        String text = jdbc.sql("select moves::text from work_schedule where id = :id")
                .param("id", schedule)
                .query(String.class)
                .single();
        Map<String, Replan.Move> reasons = new HashMap<>();
        for (Replan.Move m : JSON.readValue(text, Replan.Move[].class)) {
            reasons.put(m.job(), m);
        }
        return reasons;
    }

    private static Map<String, Begin> begins(List<Stored> stints, Map<String, String> names) {
        Map<String, List<Stored>> first = new LinkedHashMap<>();
        for (Stored s : stints) {
            List<Stored> own = first.computeIfAbsent(s.task(), k -> new ArrayList<>());
            if (own.isEmpty()
                    || (own.get(0).date().equals(s.date()) && own.get(0).from() == s.from())) {
                own.add(s);
            }
        }
        Map<String, Begin> begins = new LinkedHashMap<>();
        first.forEach((task, own) -> begins.put(
                task,
                new Begin(
                        own.get(0).date(),
                        Stint.clock(own.get(0).from()),
                        own.stream()
                                .map(s -> names.getOrDefault(s.person(), "?"))
                                .sorted()
                                .collect(Collectors.joining(" + ")))));
        return begins;
    }

    /**
     * A task that a schedule does after it is due.
     *
     * @param done the day on which it is done
     * @param days calendar days late
     * @param vines vines still to be planted by it; 1 for other steps
     */
    public record Late(Task task, LocalDate due, LocalDate done, long days, int vines) {
        /** What it adds to the vine-days by which the schedule is late. */
        public long vineDays() {
            return days * vines;
        }
    }

    /** What the late vine-days of a schedule are made of, the most first; of tasks that are open still. */
    public List<Late> late(List<Day> days) {
        Map<UUID, Task> byId = new LinkedHashMap<>();
        Map<UUID, LocalDate> done = new HashMap<>();
        for (Day d : days) {
            d.people().stream().flatMap(p -> p.slots().stream()).forEach(s -> {
                if (s.task() != null && s.task().status().isOpen()) {
                    byId.put(s.task().id(), s.task());
                    done.put(s.task().id(), s.date());
                }
            });
        }
        List<Late> late = new ArrayList<>();
        byId.forEach((id, task) -> {
            LocalDate due = task.due();
            LocalDate on = done.get(id);
            if (due != null && on != null && on.isAfter(due)) {
                boolean plants = task.step().equals(TaskService.PLANT);
                late.add(new Late(
                        task, due, on, ChronoUnit.DAYS.between(due, on), plants ? task.quantity() - task.done() : 1));
            }
        });
        late.sort(Comparator.comparing(Late::vineDays).reversed());
        return List.copyOf(late);
    }

    /** Tasks for which the schedule found no time. */
    public List<Task> unplanned(UUID schedule) {
        String[] ids = jdbc.sql("select unplanned from work_schedule where id = :id")
                .param("id", schedule)
                .query((r, n) -> (String[]) r.getArray(1).getArray())
                .single();
        return tasks.byIds(Arrays.stream(ids).map(UUID::fromString).toList());
    }

    /** The schedule in force: the newest finished one. */
    public Optional<UUID> inForce() {
        return standing(1).stream().findFirst();
    }

    /** Steps that cannot be scheduled because nobody said how long they take. */
    public Set<String> unrated() {
        return orders.order(vineyards.today()).unrated();
    }

    /** Fixes that a person works on a task on a day. */
    public void pin(UUID task, UUID person, LocalDate day) {
        jdbc.sql("insert into work_pin (id, task_id, person_id, day) values (:id, :task, :person, :day)"
                        + " on conflict do nothing")
                .param("id", Ids.next())
                .param("task", task)
                .param("person", person)
                .param("day", day)
                .update();
    }

    public void unpin(UUID id) {
        jdbc.sql("delete from work_pin where id = :id").param("id", id).update();
    }

    /** A fixed choice as shown. */
    public record PinView(UUID id, @Nullable Task task, String person, LocalDate day) {}

    public List<PinView> pins() {
        Map<UUID, Task> byId = new HashMap<>();
        tasks.open().forEach(t -> byId.put(t.id(), t));
        Map<UUID, String> names = crew.names();
        return jdbc.sql("select id, task_id, person_id, day from work_pin where day >= :today order by day")
                .param("today", vineyards.today())
                .query((r, n) -> new PinView(
                        r.getObject("id", UUID.class),
                        byId.get(r.getObject("task_id", UUID.class)),
                        names.getOrDefault(r.getObject("person_id", UUID.class), "?"),
                        r.getObject("day", LocalDate.class)))
                .list();
    }

    @PreDestroy
    void stop() {
        runs.stop();
    }
}
