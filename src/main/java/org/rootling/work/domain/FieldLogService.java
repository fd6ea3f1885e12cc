package org.rootling.work.domain;

import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.people.Member;
import org.rootling.people.Members;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.rootling.work.FieldLog;
import org.rootling.work.LoggedWork;
import org.rootling.work.StepEffect;
import org.rootling.work.Task;
import org.rootling.work.TaskStatus;
import org.rootling.work.Tasks;
import org.rootling.work.WorkLogged;
import org.rootling.work.WorkUndone;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.dao.DataAccessException;
import org.springframework.stereotype.Service;
import org.springframework.transaction.TransactionDefinition;
import org.springframework.transaction.TransactionException;
import org.springframework.transaction.support.TransactionTemplate;

@Service
class FieldLogService implements FieldLog {
    private static final int CHUNK = 250;
    private static final int TRIES = 4;

    private final TaskStore tasks;
    private final LogStore logs;
    private final ConflictStore conflicts;
    private final Tasks taskViews;
    private final Ground ground;
    private final Members members;
    private final Vineyards vineyards;
    private final CrewService crew;
    private final List<StepEffect> effects;
    private final ApplicationEventPublisher events;
    private final TransactionTemplate transaction;
    /** For a page: a refusal by the database must not spoil the transaction in which the form is shown again. */
    private final TransactionTemplate own;

    FieldLogService(
            TaskStore tasks,
            LogStore logs,
            ConflictStore conflicts,
            Tasks taskViews,
            Ground ground,
            Members members,
            Vineyards vineyards,
            CrewService crew,
            List<StepEffect> effects,
            ApplicationEventPublisher events,
            TransactionTemplate transaction) {
        this.tasks = tasks;
        this.logs = logs;
        this.conflicts = conflicts;
        this.taskViews = taskViews;
        this.ground = ground;
        this.members = members;
        this.vineyards = vineyards;
        this.crew = crew;
        this.effects = effects;
        this.events = events;
        this.transaction = transaction;
        own = new TransactionTemplate(Objects.requireNonNull(transaction.getTransactionManager()));
        own.setPropagationBehavior(TransactionDefinition.PROPAGATION_REQUIRES_NEW);
    }

    @Override
    public Result record(Entry entry, UUID by) {
        return record(List.of(entry), by).get(0);
    }

    @Override
    public List<Result> record(List<Entry> entries, UUID by) {
        if (entries.size() > MOST_ENTRIES) {
            throw new Refused("work.log.too-many", MOST_ENTRIES);
        }
        List<Entry> ordered = new ArrayList<>(entries);
        ordered.sort(Comparator.comparing(Entry::at));
        Map<UUID, Result> results = new HashMap<>();
        boolean may = mayLogAll(by);
        for (int i = 0; i < ordered.size(); i += CHUNK) {
            chunk(ordered.subList(i, Math.min(ordered.size(), i + CHUNK)), by, may, results);
        }
        List<Result> answer = new ArrayList<>();
        Set<UUID> said = new HashSet<>();
        for (Entry e : entries) {
            Result r = Objects.requireNonNull(results.get(e.id()));
            // An id that stands twice in one batch is the same entry sent twice.
            answer.add(
                    said.add(e.id()) || r.outcome() != Outcome.TAKEN
                            ? r
                            : new Result(e.id(), Outcome.ALREADY_TAKEN, null, List.of(), null));
        }
        return answer;
    }

    /** Takes a chunk in one transaction; if one entry upsets it, that one alone is judged by itself. */
    private void chunk(List<Entry> entries, UUID by, boolean may, Map<UUID, Result> results) {
        int from = 0;
        while (from < entries.size()) {
            List<Entry> part = entries.subList(from, entries.size());
            try {
                results.putAll(retried(part, by, may));
                return;
            } catch (Upset upset) {
                int at = part.indexOf(upset.entry);
                if (at > 0) {
                    results.putAll(retried(part.subList(0, at), by, may));
                }
                results.put(upset.entry.id(), keepUpset(upset, by, may));
                from += at + 1;
            }
        }
    }

    private Map<UUID, Result> retried(List<Entry> entries, UUID by, boolean may) {
        for (int attempt = 1; ; attempt++) {
            try {
                return Objects.requireNonNull(transaction.execute(t -> attempt(entries, by, may)));
            } catch (DataAccessException | TransactionException failure) {
                // Two phones at the same rows: a lock lost or the same id written first by the other; or the connection
                // was
                // cut, and with it the whole chunk.
                if (attempt == TRIES) {
                    throw failure;
                }
            }
        }
    }

    private Map<UUID, Result> attempt(List<Entry> entries, UUID by, boolean may) {
        Instant now = vineyards.now();
        Map<UUID, TaskStore.Stored> locked =
                tasks.lock(entries.stream().map(Entry::task).distinct().toList());
        Map<UUID, Row> rows = rows(locked);
        LogRules rules = rules(now, entries, locked, rows);
        Map<UUID, LogStore.Known> known =
                logs.known(entries.stream().map(Entry::id).toList());
        Map<UUID, Result> results = new LinkedHashMap<>();
        Map<LogStore.Stored, Entry> good = new LinkedHashMap<>();
        List<Verdict.Against> against = new ArrayList<>();
        for (Entry e : entries) {
            if (results.containsKey(e.id())) {
                continue;
            }
            Verdict verdict = known.containsKey(e.id())
                    ? recognised(e, known.get(e.id()))
                    : judge(e, rules, locked, rows, by, may, good);
            if (verdict instanceof Verdict.Good g) {
                good.put(g.log(), e);
                TaskStore.Stored task =
                        Objects.requireNonNull(locked.get(g.log().taskId()));
                task.done.addAll(g.log().places());
                task.settleStatus();
            } else if (verdict instanceof Verdict.Against a && !known.containsKey(e.id())) {
                against.add(a);
            }
            results.put(e.id(), result(e, verdict));
        }
        write(good, locked, now);
        // After the logs, because a conflict names the log that stands against it.
        against.forEach(a -> conflicts.keep(a, now));
        return results;
    }

    private Verdict judge(
            Entry e,
            LogRules rules,
            Map<UUID, TaskStore.Stored> locked,
            Map<UUID, Row> rows,
            UUID by,
            boolean may,
            Map<LogStore.Stored, Entry> good) {
        TaskStore.Stored task = locked.get(e.task());
        Row row = task == null ? null : rows.get(task.rowId);
        return rules.judge(
                e,
                task,
                row,
                by,
                may,
                (id, places) -> good.keySet().stream()
                        .filter(l ->
                                l.taskId().equals(id) && l.places().stream().anyMatch(places::contains))
                        .map(LogStore.Stored::id)
                        .findFirst()
                        .orElseGet(() -> logs.against(id, places).orElse(null)));
    }

    private Verdict recognised(Entry e, LogStore.@Nullable Known known) {
        if (known == null || !known.taskId().equals(e.task())) {
            return Verdict.Bad.of("id", "work.log.id-used");
        }
        return known.openConflict()
                ? new Verdict.Open(known.reason(), known.args(), known.against())
                : new Verdict.There();
    }

    /** Only rows whose tasks were all dropped can have been replaced (WorkRowGuard). */
    private LogRules rules(Instant now, List<Entry> entries, Map<UUID, TaskStore.Stored> locked, Map<UUID, Row> rows) {
        Set<UUID> replaced = new HashSet<>();
        for (TaskStore.Stored task : locked.values()) {
            Row row = rows.get(task.rowId);
            if (task.status == TaskStatus.DROPPED
                    && row != null
                    && ground.rows(row.blockId()).stream().noneMatch(r -> r.id().equals(row.id()))) {
                replaced.add(row.id());
            }
        }
        return new LogRules(now, vineyards.current().zone(), logs.helpers(entries), replaced);
    }

    private Map<UUID, Row> rows(Map<UUID, TaskStore.Stored> locked) {
        Map<UUID, Row> rows = new HashMap<>();
        ground.rowsById(locked.values().stream().map(t -> t.rowId).distinct().toList())
                .forEach(r -> rows.put(r.id(), r));
        return rows;
    }

    private void write(Map<LogStore.Stored, Entry> good, Map<UUID, TaskStore.Stored> locked, Instant now) {
        if (good.isEmpty()) {
            return;
        }
        logs.insert(List.copyOf(good.keySet()), now);
        Map<UUID, TaskStore.Stored> changed = new LinkedHashMap<>();
        for (LogStore.Stored log : good.keySet()) {
            changed.put(log.taskId(), Objects.requireNonNull(locked.get(log.taskId())));
        }
        tasks.saveDone(changed.values(), vineyards.today());
        Map<UUID, Map<String, List<StepEffect>>> concerned = new HashMap<>();
        good.forEach((log, entry) -> {
            TaskStore.Stored task = Objects.requireNonNull(locked.get(log.taskId()));
            LoggedWork work = work(log, task);
            List<StepEffect> those = concerned
                    .computeIfAbsent(task.rowId, k -> new HashMap<>())
                    .computeIfAbsent(
                            task.step,
                            step -> effects.stream()
                                    .filter(e -> e.concerns(step, task.rowId))
                                    .toList());
            for (StepEffect effect : those) {
                try {
                    effect.logged(work);
                } catch (Refused refused) {
                    throw new Upset(entry, refused);
                }
            }
            if (task.step.equals(TaskService.PLANT)) {
                // Other steps may concern this row now.
                concerned.remove(task.rowId);
            }
            events.publishEvent(new WorkLogged(
                    Tenancy.require(),
                    log.id(),
                    task.id,
                    task.step,
                    task.rowId,
                    task.lotId,
                    log.places().size(),
                    log.by(),
                    log.on(),
                    work.minutes()));
        });
    }

    private static LoggedWork work(LogStore.Stored log, TaskStore.Stored task) {
        return new LoggedWork(
                log.id(),
                task.id,
                task.step,
                task.rowId,
                task.lotId,
                log.places(),
                log.found(),
                log.by(),
                log.on(),
                log.minutes() == null ? 0 : log.minutes());
    }

    /** What an effect refused was really done in the field: keep it for a person. */
    private Result keepUpset(Upset upset, UUID by, boolean may) {
        return Objects.requireNonNull(transaction.execute(t -> {
            Entry e = upset.entry;
            Instant now = vineyards.now();
            Map<UUID, TaskStore.Stored> locked = tasks.lock(List.of(e.task()));
            Map<UUID, Row> rows = rows(locked);
            LogRules rules = rules(now, List.of(e), locked, rows);
            Map<UUID, LogStore.Known> known = logs.known(List.of(e.id()));
            Verdict verdict = known.containsKey(e.id())
                    ? recognised(e, known.get(e.id()))
                    : judge(e, rules, locked, rows, by, may, Map.of());
            if (verdict instanceof Verdict.Good g) {
                verdict = new Verdict.Against(
                        Verdict.Kind.NOT_POSSIBLE,
                        g.log(),
                        upset.refused.key(),
                        Verdict.strings(upset.refused.args()),
                        null);
            }
            if (verdict instanceof Verdict.Against a && !known.containsKey(e.id())) {
                conflicts.keep(a, now);
            }
            return result(e, verdict);
        }));
    }

    private static Result result(Entry e, Verdict verdict) {
        if (verdict instanceof Verdict.Good) {
            return new Result(e.id(), Outcome.TAKEN, null, List.of(), null);
        }
        if (verdict instanceof Verdict.Bad b) {
            return new Result(e.id(), Outcome.REFUSED, b.reason(), b.args(), null);
        }
        if (verdict instanceof Verdict.Against a) {
            return new Result(e.id(), Outcome.CONFLICT, a.reason(), a.args(), a.against());
        }
        if (verdict instanceof Verdict.Open o) {
            return new Result(e.id(), Outcome.CONFLICT, o.reason(), o.args(), o.against());
        }
        return new Result(e.id(), Outcome.ALREADY_TAKEN, null, List.of(), null);
    }

    @Override
    public void take(Entry entry, UUID by) {
        boolean may = mayLogAll(by);
        own.executeWithoutResult(t -> {
            try {
                takeInside(entry, by, may, false);
            } catch (Upset upset) {
                throw upset.refused;
            }
        });
    }

    @Override
    public void settle(Entry entry, UUID by) {
        transaction.executeWithoutResult(t -> {
            try {
                takeInside(entry, by, true, true);
            } catch (Upset upset) {
                throw upset.refused;
            }
        });
    }

    private void takeInside(Entry entry, UUID by, boolean may, boolean knownAsConflict) {
        Map<UUID, TaskStore.Stored> locked = tasks.lock(List.of(entry.task()));
        Map<UUID, LogStore.Known> known = knownAsConflict ? Map.of() : logs.known(List.of(entry.id()));
        if (known.containsKey(entry.id())) {
            return;
        }
        Instant now = vineyards.now();
        Map<UUID, Row> rows = rows(locked);
        LogRules rules = rules(now, List.of(entry), locked, rows);
        Verdict verdict = judge(entry, rules, locked, rows, by, may, Map.of());
        if (verdict instanceof Verdict.Bad b) {
            throw refused(b.reason(), b.args(), b.field());
        }
        if (verdict instanceof Verdict.Against a) {
            throw refused(a.reason(), a.args(), a.kind() == Verdict.Kind.CLOCK_AHEAD ? "at" : "places");
        }
        if (verdict instanceof Verdict.Good g) {
            TaskStore.Stored task = Objects.requireNonNull(locked.get(g.log().taskId()));
            task.done.addAll(g.log().places());
            task.settleStatus();
            write(Map.of(g.log(), entry), locked, now);
        }
    }

    private static Refused refused(String reason, List<String> args, @Nullable String field) {
        Refused refused = new Refused(reason, args.toArray());
        return field == null ? refused : refused.at(field);
    }

    @Override
    public void undo(UUID logId, UUID by, @Nullable String reason) {
        boolean may = mayLogAll(by);
        transaction.executeWithoutResult(t -> {
            LogStore.Stored before = logs.byId(logId).orElseThrow(() -> new NotFound("log"));
            TaskStore.Stored task = tasks.lock(before.taskId()).orElseThrow(() -> new NotFound("task"));
            // Read again under the lock: two people may press undo at the same moment.
            LogStore.Stored log = logs.byId(logId).orElseThrow(() -> new NotFound("log"));
            if (log.undoneAt() != null) {
                throw new Refused("work.undo.done-before");
            }
            if (!may && !log.by().equals(by)) {
                throw new Refused("work.undo.not-yours");
            }
            if (reason != null && reason.length() > 300) {
                throw new Refused("work.undo.reason-long", 300).at("reason");
            }
            logs.undo(logId, vineyards.now(), by, reason == null || reason.isBlank() ? null : reason.strip());
            task.done.removeAll(log.places());
            task.settleStatus();
            tasks.saveDone(List.of(task), vineyards.today());
            for (StepEffect effect : effects) {
                if (effect.handles(task.step)) {
                    effect.undone(work(log, task));
                }
            }
            events.publishEvent(new WorkUndone(Tenancy.require(), logId, task.id, task.step));
        });
    }

    private boolean mayLogAll(UUID account) {
        return members.list().stream()
                .filter(m -> m.accountId().equals(account))
                .map(Member::role)
                .anyMatch(r -> r.includes(Role.LEAD));
    }

    @Override
    public Optional<Logged> byId(UUID logId) {
        return logs.byId(logId).map(l -> views(List.of(l)).get(0));
    }

    @Override
    public List<Logged> ofTask(UUID taskId) {
        return views(logs.ofTask(taskId));
    }

    @Override
    public List<Logged> ofPerson(UUID account, LocalDate on) {
        return views(logs.ofPerson(account, on));
    }

    private List<Logged> views(List<LogStore.Stored> stored) {
        Map<UUID, Task> byId = new HashMap<>();
        taskViews
                .byIds(stored.stream().map(LogStore.Stored::taskId).distinct().toList())
                .forEach(t -> byId.put(t.id(), t));
        Map<UUID, String> helpers = stored.stream().anyMatch(l -> l.person() != null) ? crew.names() : Map.of();
        return stored.stream()
                .map(l -> {
                    Task t = Objects.requireNonNull(byId.get(l.taskId()));
                    return new Logged(
                            l.id(),
                            l.taskId(),
                            t.step(),
                            t.stepName(),
                            t.row(),
                            l.places(),
                            l.found(),
                            l.minutes(),
                            l.on(),
                            l.at(),
                            l.by(),
                            l.note(),
                            l.person() == null ? null : helpers.getOrDefault(l.person(), "?"),
                            l.undoneAt(),
                            l.undoneBy());
                })
                .toList();
    }

    /** An effect refused an entry: the whole transaction must go, and the entry be judged alone. */
    private static final class Upset extends RuntimeException {
        private final transient Entry entry;
        private final transient Refused refused;

        Upset(Entry entry, Refused refused) {
            super(refused);
            this.entry = entry;
            this.refused = refused;
        }
    }
}
