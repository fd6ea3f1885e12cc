package org.rootling.work.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.nursery.Lots;
import org.rootling.people.Member;
import org.rootling.people.Members;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.work.NewTask;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.Task;
import org.rootling.work.TaskStatus;
import org.rootling.work.Tasks;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

@Service
@Transactional
class TaskService implements Tasks {
    /** The step whose tasks move vines from a lot into the ground. */
    static final String PLANT = "PLANT";

    private final TaskStore store;
    private final Steps steps;
    private final Ground ground;
    private final Lots lots;
    private final Members members;
    private final Vineyards vineyards;

    TaskService(TaskStore store, Steps steps, Ground ground, Lots lots, Members members, Vineyards vineyards) {
        this.store = store;
        this.steps = steps;
        this.ground = ground;
        this.lots = lots;
        this.members = members;
        this.vineyards = vineyards;
    }

    @Override
    public UUID create(NewTask task) {
        Step step = steps.byCode(task.step())
                .filter(s -> !s.withdrawn())
                .orElseThrow(() -> new Refused("work.task.unknown-step", shorten(task.step())).at("steps"));
        Row row = ground.hold(task.rowId());
        SortedSet<Integer> places = task.places() == null ? all(row) : new TreeSet<>(task.places());
        if (places.isEmpty()) {
            throw new Refused("work.task.no-places").at("places");
        }
        if (places.first() < 1 || places.last() > row.places()) {
            throw new Refused("work.task.outside", places.last(), row.places()).at("places");
        }
        if (step.code().equals(PLANT) && task.lotId() == null) {
            throw new Refused("work.task.no-lot").at("lot");
        }
        if (task.lotId() != null && lots.byId(task.lotId()).isEmpty()) {
            throw new NotFound("lot");
        }
        checkPeople(task.people());
        store.lockRow(row.id());
        if (store.overlaps(row.id(), step.code(), places)) {
            throw new Refused("work.task.there", step.name(), row.blockCode() + " r" + row.number()).at("rows");
        }
        LocalDate due = task.due();
        if (due == null && step.code().equals(PLANT) && task.lotId() != null) {
            due = lots.plantBy(task.lotId()).orElse(null);
        }
        return store.insert(step.code(), row.id(), task.lotId(), places, due, blank(task.note()), task.people());
    }

    private static SortedSet<Integer> all(Row row) {
        SortedSet<Integer> places = new TreeSet<>();
        for (int p = 1; p <= row.places(); p++) {
            places.add(p);
        }
        return places;
    }

    /** Tasks go to present members who may log work. */
    private void checkPeople(List<UUID> people) {
        Set<UUID> able = new HashSet<>();
        for (Member m : members.list()) {
            if (m.role().includes(Role.HELPER)) {
                able.add(m.accountId());
            }
        }
        if (!able.containsAll(people)) {
            throw new Refused("work.task.unknown-person").at("people");
        }
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Task> byId(UUID id) {
        return byIds(List.of(id)).stream().findFirst();
    }

    @Override
    @Transactional(readOnly = true)
    public List<Task> byIds(Collection<UUID> ids) {
        return sorted(store.byIds(ids));
    }

    @Override
    @Transactional(readOnly = true)
    public List<Task> open() {
        return sorted(store.open());
    }

    @Override
    @Transactional(readOnly = true)
    public List<Task> inRow(UUID rowId) {
        return sorted(store.inRow(rowId));
    }

    @Override
    @Transactional(readOnly = true)
    public List<Task> forHelper(UUID accountId, LocalDate today) {
        List<Task> all = new ArrayList<>(sorted(store.openOf(accountId)));
        all.sort(Comparator.comparingInt(t -> t.due() != null && !t.due().isAfter(today) ? 0 : 1));
        return all;
    }

    private List<Task> sorted(List<TaskStore.Stored> stored) {
        if (stored.isEmpty()) {
            return List.of();
        }
        List<Step> stepList = steps.all();
        Map<String, Integer> order = new HashMap<>();
        Map<String, String> names = new HashMap<>();
        for (Step s : stepList) {
            order.put(s.code(), order.size());
            names.put(s.code(), s.name());
        }
        List<Task> tasks = new ArrayList<>();
        for (TaskStore.Stored t : stored) {
            tasks.add(new Task(
                    t.id,
                    t.step,
                    names.getOrDefault(t.step, t.step),
                    t.rowId,
                    t.blockCode,
                    t.rowNumber,
                    t.lotId,
                    t.lotCode,
                    t.places,
                    t.done,
                    t.quantity,
                    t.done.size(),
                    t.due,
                    t.note,
                    t.people,
                    t.status,
                    t.version));
        }
        tasks.sort(Comparator.comparing((Task t) -> t.due() == null ? LocalDate.MAX : t.due())
                .thenComparing(Task::blockCode)
                .thenComparingInt(Task::rowNumber)
                .thenComparingInt(t -> order.getOrDefault(t.step(), 1000)));
        return tasks;
    }

    @Override
    public void change(UUID id, List<UUID> people, @Nullable LocalDate due, @Nullable String note, int version) {
        TaskStore.Stored task = locked(id, version);
        if (!new HashSet<>(task.people).containsAll(people)) {
            List<UUID> added = new ArrayList<>(people);
            added.removeAll(task.people);
            checkPeople(added);
        }
        if (store.change(id, due, blank(note), version) == 0) {
            throw new Stale(version, task.version);
        }
        store.give(id, people);
    }

    @Override
    public void close(UUID id, int version) {
        TaskStore.Stored task = locked(id, version);
        if (!task.status.isOpen()) {
            throw new Refused("work.task.ended");
        }
        task.status = TaskStatus.CLOSED;
        store.saveDone(List.of(task), vineyards.today());
    }

    @Override
    public void drop(UUID id, int version) {
        TaskStore.Stored task = locked(id, version);
        if (task.status != TaskStatus.OPEN) {
            throw new Refused("work.task.started");
        }
        task.status = TaskStatus.DROPPED;
        store.saveDone(List.of(task), vineyards.today());
    }

    @Override
    public void reopen(UUID id, int version) {
        TaskStore.Stored task = locked(id, version);
        if (task.status != TaskStatus.CLOSED && task.status != TaskStatus.DROPPED) {
            throw new Refused("work.task.not-ended");
        }
        // Refuses a row that a later layout has replaced.
        ground.hold(task.rowId);
        store.lockRow(task.rowId);
        if (store.overlaps(task.rowId, task.step, task.places)) {
            throw new Refused("work.task.covered");
        }
        task.status = TaskStatus.OPEN;
        task.settleStatus();
        store.saveDone(List.of(task), vineyards.today());
    }

    private TaskStore.Stored locked(UUID id, int version) {
        TaskStore.Stored task = store.lock(id).orElseThrow(() -> new NotFound("task"));
        if (task.version != version) {
            throw new Stale(version, task.version);
        }
        return task;
    }

    private static @Nullable String blank(@Nullable String text) {
        return text == null || text.isBlank() ? null : text.strip();
    }

    private static String shorten(String text) {
        return text.length() > 40 ? text.substring(0, 40) : text;
    }
}
