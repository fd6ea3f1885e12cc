package org.rootling.work.domain;

import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.PlaceRun;
import org.rootling.people.Vineyards;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.work.FieldLog;
import org.rootling.work.Found;
import org.rootling.work.Task;
import org.rootling.work.TaskStatus;
import org.rootling.work.Tasks;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Entries that contradict the records, and how a lead settles them. */
@Service
public class ConflictService {
    private final ConflictStore store;
    private final FieldLog log;
    private final Tasks tasks;
    private final CrewService crew;
    private final Vineyards vineyards;

    ConflictService(ConflictStore store, FieldLog log, Tasks tasks, CrewService crew, Vineyards vineyards) {
        this.crew = crew;
        this.store = store;
        this.log = log;
        this.tasks = tasks;
        this.vineyards = vineyards;
    }

    /**
     * An open conflict beside what stands against it.
     *
     * @param helper who did it, where a lead wrote it down for them
     */
    public record Conflict(
            UUID id,
            Task task,
            SortedSet<Integer> places,
            SortedSet<Integer> stillLeft,
            List<Found> found,
            @Nullable Integer minutes,
            @Nullable String note,
            Instant at,
            UUID by,
            @Nullable String helper,
            Instant takenAt,
            String kind,
            String reason,
            List<String> args,
            FieldLog.@Nullable Logged against,
            int version) {}

    @Transactional(readOnly = true)
    public int count() {
        return store.countOpen();
    }

    @Transactional(readOnly = true)
    public List<Conflict> open() {
        List<ConflictStore.Stored> stored = store.open();
        Map<UUID, Task> byId = new HashMap<>();
        tasks.byIds(stored.stream().map(ConflictStore.Stored::taskId).distinct().toList())
                .forEach(t -> byId.put(t.id(), t));
        Map<UUID, String> names = stored.stream().anyMatch(c -> c.person() != null) ? crew.names() : Map.of();
        return stored.stream()
                .map(c -> {
                    Task task = Objects.requireNonNull(byId.get(c.taskId()));
                    SortedSet<Integer> left = new TreeSet<>(c.places());
                    left.removeAll(task.donePlaces());
                    return new Conflict(
                            c.id(),
                            task,
                            c.places(),
                            left,
                            c.found(),
                            c.minutes(),
                            c.note(),
                            c.at(),
                            c.by(),
                            c.person() == null ? null : names.getOrDefault(c.person(), "?"),
                            c.takenAt(),
                            c.kind(),
                            c.reason(),
                            c.args(),
                            c.against() == null ? null : log.byId(c.against()).orElse(null),
                            c.version());
                })
                .toList();
    }

    /**
     * Takes what the entry says as far as it is not done yet, as work of the person who did it.
     *
     * @param at when it was really done; null for the time the entry says, or now if that lies ahead
     * @param replace take back the log that stands against it first
     */
    @Transactional
    public void accept(UUID id, int version, @Nullable Instant at, boolean replace, UUID settledBy) {
        ConflictStore.Stored c = open(id, version);
        if (replace && c.against() != null) {
            FieldLog.Logged against = log.byId(c.against()).orElseThrow(() -> new NotFound("log"));
            if (against.standing()) {
                log.undo(c.against(), settledBy, null);
            }
        }
        Task task = tasks.byId(c.taskId()).orElseThrow(() -> new NotFound("task"));
        if (task.status() == TaskStatus.CLOSED || task.status() == TaskStatus.DROPPED) {
            tasks.reopen(task.id(), task.version());
        }
        SortedSet<Integer> left = new TreeSet<>(c.places());
        left.removeAll(task(c.taskId()).donePlaces());
        if (left.isEmpty() && c.found().isEmpty()) {
            throw new Refused("work.conflict.nothing-left");
        }
        Instant now = vineyards.now();
        Instant when = at != null ? at : c.at().isAfter(now) ? now : c.at();
        // Settled first: the entry's id is then free to become a log.
        store.settle(id, now, settledBy, "TAKEN");
        log.settle(
                new FieldLog.Entry(
                        id,
                        c.taskId(),
                        task.row() + " " + PlaceRun.shorten(left.isEmpty() ? task.places() : left),
                        // Nothing left but findings: all places are left out again.
                        left.isEmpty() ? PlaceRun.shorten(task.places()) : null,
                        c.found(),
                        c.minutes(),
                        when,
                        c.note(),
                        c.person()),
                c.by());
    }

    /** Leaves the entry out; it stays in the records as set aside. */
    @Transactional
    public void setAside(UUID id, int version, UUID settledBy) {
        open(id, version);
        store.settle(id, vineyards.now(), settledBy, "SET_ASIDE");
    }

    private Task task(UUID id) {
        return tasks.byId(id).orElseThrow(() -> new NotFound("task"));
    }

    private ConflictStore.Stored open(UUID id, int version) {
        ConflictStore.Stored c = store.lock(id).orElseThrow(() -> new NotFound("conflict"));
        if (c.settled()) {
            throw new Refused("work.conflict.settled");
        }
        if (c.version() != version) {
            throw new Stale(version, c.version());
        }
        return c;
    }
}
