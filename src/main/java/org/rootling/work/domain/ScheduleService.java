package org.rootling.work.domain;

import jakarta.annotation.PreDestroy;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.sql.Timestamp;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.Executors;
import java.util.concurrent.ScheduledExecutorService;
import java.util.concurrent.ScheduledFuture;
import java.util.concurrent.TimeUnit;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.rootling.work.Task;
import org.rootling.work.Tasks;
import org.rootling.work.calc.OrderCheck;
import org.rootling.work.calc.OrderFault;
import org.rootling.work.calc.Schedule;
import org.rootling.work.calc.ScheduleSearch;
import org.rootling.work.calc.Stint;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.support.TransactionSynchronization;
import org.springframework.transaction.support.TransactionSynchronizationManager;

/**
 * Schedules of the open tasks. A search runs in the background of one node and writes its best answer so far to the
 * database, where any node can show it or ask it to stop.
 */
@Service
public class ScheduleService {
    private static final org.slf4j.Logger LOG = org.slf4j.LoggerFactory.getLogger(ScheduleService.class);
    private static final Duration SILENCE = Duration.ofSeconds(30);

    private final OrderBuilder orders;
    private final CrewService crew;
    private final Tasks tasks;
    private final Vineyards vineyards;
    private final JdbcClient jdbc;
    private final ScheduledExecutorService searches = Executors.newScheduledThreadPool(3, work -> {
        Thread t = new Thread(work, "schedule");
        t.setDaemon(true);
        return t;
    });

    ScheduleService(OrderBuilder orders, CrewService crew, Tasks tasks, Vineyards vineyards, JdbcClient jdbc) {
        this.orders = orders;
        this.crew = crew;
        this.tasks = tasks;
        this.vineyards = vineyards;
        this.jdbc = jdbc;
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
    public record Slot(@Nullable Task task, String person, LocalDate date, String from, String to, int quarters) {}

    /** What everybody does on a day: by person. */
    public record Day(LocalDate date, Map<String, List<Slot>> byPerson) {}

    /** A task that begins on another day than in the schedule before. */
    public record Moved(Task task, LocalDate from, LocalDate to) {}

    /** Starts a search for a schedule that begins on a day; with the order kept, places the tasks as before. */
    public UUID start(LocalDate from, int seconds, boolean keepOrder) {
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
        List<String> ranking = keepOrder ? rankingOfStanding() : List.of();
        UUID id = Ids.next();
        Timestamp now = Timestamp.from(vineyards.now());
        jdbc.sql("insert into work_schedule (id, state, starts_on, started_at, heard_at, seconds)"
                        + " values (:id, 'RUNNING', :from, :now, now(), :seconds)")
                .param("id", id)
                .param("from", from)
                .param("now", now)
                .param("seconds", seconds)
                .update();
        UUID vineyard = Tenancy.require();
        UUID account = Tenancy.accountOrNull();
        afterCommit(() ->
                searches.execute(() -> Tenancy.run(vineyard, account, () -> run(id, built, seconds, ranking))));
        return id;
    }

    /** The search must find its row: where a transaction is open, it begins after that. */
    private static void afterCommit(Runnable work) {
        if (!TransactionSynchronizationManager.isSynchronizationActive()) {
            work.run();
            return;
        }
        TransactionSynchronizationManager.registerSynchronization(new TransactionSynchronization() {
            @Override
            public void afterCommit() {
                work.run();
            }
        });
    }

    /** Ids stand for tasks and people: say their names. */
    private Refused refused(OrderFault fault) {
        Map<String, String> names = new HashMap<>();
        tasks.open().forEach(t -> names.put(t.id().toString(), t.stepName() + " " + t.row()));
        crew.people().forEach(p -> names.put(p.id().toString(), p.name()));
        List<String> said =
                fault.names().stream().map(n -> names.getOrDefault(n, n)).toList();
        Object[] args =
                fault.kind() == OrderFault.Kind.CIRCLE ? new Object[] {String.join(" \u2192 ", said)} : said.toArray();
        return new Refused("work.schedule.fault." + fault.kind(), args);
    }

    private void run(UUID id, OrderBuilder.Built built, int seconds, List<String> ranking) {
        int[] answers = new int[1];
        long[] saved = new long[1];
        ScheduleSearch search = new ScheduleSearch(built.order(), s -> {
            answers[0]++;
            if (System.nanoTime() - saved[0] > 500_000_000L) {
                saved[0] = System.nanoTime();
                save(id, s, answers[0], "RUNNING");
            }
        });
        UUID vineyard = Tenancy.require();
        ScheduledFuture<?> watch = searches.scheduleWithFixedDelay(
                () -> Tenancy.run(vineyard, null, () -> {
                    if (cancelAsked(id)) {
                        search.cancel();
                    }
                }),
                300,
                300,
                TimeUnit.MILLISECONDS);
        try {
            Schedule best = ranking.isEmpty()
                    ? search.run(Duration.ofSeconds(seconds), Long.MAX_VALUE)
                    : search.following(ranking);
            save(id, best, Math.max(1, answers[0]), cancelAsked(id) ? "CANCELLED" : "DONE");
        } catch (RuntimeException failure) {
            LOG.error("a schedule search failed", failure);
            jdbc.sql("update work_schedule set state = 'FAILED' where id = :id")
                    .param("id", id)
                    .update();
            throw failure;
        } finally {
            watch.cancel(false);
        }
    }

    private boolean cancelAsked(UUID id) {
        return jdbc.sql("update work_schedule set heard_at = now() where id = :id returning cancel_asked")
                .param("id", id)
                .query(Boolean.class)
                .optional()
                .orElse(true);
    }

    private void save(UUID id, Schedule s, int answers, String state) {
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
                          late = :late, bound_finish = :boundFinish, bound_late = :boundLate, proven = :proven,
                          stints = coalesce((select jsonb_agg(jsonb_build_object('t', t, 'p', p, 'd', d, 'f', f, 'u', u))
                            from unnest(cast(:job as text[]), cast(:person as text[]), cast(:day as date[]),
                              cast(:from as int[]), cast(:to as int[])) as x(t, p, d, f, u)), '[]')
                         where id = :id""")
                .param("id", id)
                .param("state", state)
                .param("answers", answers)
                .param("finish", s.finish())
                .param("late", s.weightedLateDays())
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
        jdbc.sql("update work_schedule set cancel_asked = true where id = :id and state = 'RUNNING'")
                .param("id", id)
                .update();
    }

    /** The newest search, whether it runs or ended. A search whose node died counts as failed. */
    public Optional<Run> latest() {
        return jdbc.sql("select *, state = 'RUNNING' and heard_at < now() - make_interval(secs => :silence) as dead"
                        + " from work_schedule order by started_at desc, id desc limit 1")
                .param("silence", SILENCE.toSeconds())
                .query(ScheduleService::runOf)
                .optional();
    }

    private static Run runOf(ResultSet r, int n) throws SQLException {
        return new Run(
                r.getObject("id", UUID.class),
                r.getBoolean("dead") ? "FAILED" : r.getString("state"),
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

    private List<String> rankingOfStanding() {
        return standing(1).stream()
                .findFirst()
                .map(id -> stints(id).stream().map(Stored::task).distinct().toList())
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
        Map<String, String> names = new HashMap<>();
        crew.people().forEach(p -> names.put(p.id().toString(), p.name()));
        Map<LocalDate, Map<String, List<Slot>>> days = new TreeMap<>();
        for (Stored s : stints) {
            String person = names.getOrDefault(s.person(), "?");
            days.computeIfAbsent(s.date(), k -> new TreeMap<>())
                    .computeIfAbsent(person, k -> new ArrayList<>())
                    .add(new Slot(
                            byId.get(s.task()),
                            person,
                            s.date(),
                            Stint.clock(s.from()),
                            Stint.clock(s.to()),
                            s.to() - s.from()));
        }
        return days.entrySet().stream()
                .map(e -> new Day(e.getKey(), e.getValue()))
                .toList();
    }

    private Map<String, Task> taskNames(List<Stored> stints) {
        Set<UUID> ids = stints.stream().map(s -> UUID.fromString(s.task())).collect(Collectors.toSet());
        Map<String, Task> byId = new HashMap<>();
        tasks.byIds(ids).forEach(t -> byId.put(t.id().toString(), t));
        return byId;
    }

    /** Open tasks that begin on another day than in the schedule before the one in force. */
    public List<Moved> moved() {
        List<UUID> two = standing(2);
        if (two.size() < 2) {
            return List.of();
        }
        Map<String, LocalDate> now = firstDays(two.get(0));
        Map<String, LocalDate> before = firstDays(two.get(1));
        Map<String, Task> byId = taskNames(stints(two.get(0)));
        return now.entrySet().stream()
                .filter(e -> before.containsKey(e.getKey()) && byId.containsKey(e.getKey()))
                .filter(e -> !e.getValue().equals(before.get(e.getKey())))
                .map(e -> new Moved(
                        Objects.requireNonNull(byId.get(e.getKey())),
                        Objects.requireNonNull(before.get(e.getKey())),
                        e.getValue()))
                .sorted(Comparator.comparing(Moved::to))
                .toList();
    }

    private Map<String, LocalDate> firstDays(UUID schedule) {
        Map<String, LocalDate> first = new LinkedHashMap<>();
        stints(schedule).forEach(s -> first.putIfAbsent(s.task(), s.date()));
        return first;
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
        Map<UUID, String> names = new HashMap<>();
        crew.people().forEach(p -> names.put(p.id(), p.name()));
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
        searches.shutdownNow();
    }
}
