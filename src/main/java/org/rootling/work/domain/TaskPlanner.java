package org.rootling.work.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.SortedSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.PlaceRun;
import org.rootling.ground.Row;
import org.rootling.platform.Refused;
import org.rootling.work.NewTask;
import org.rootling.work.Tasks;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Plans several steps on several rows at once. */
@Service
public class TaskPlanner {
    private static final int MOST_TASKS = 2000;

    private final Tasks tasks;
    private final TaskStore store;
    private final Ground ground;

    TaskPlanner(Tasks tasks, TaskStore store, Ground ground) {
        this.tasks = tasks;
        this.store = store;
        this.ground = ground;
    }

    /**
     * What to plan.
     *
     * @param rows numbers of rows, as in {@code 1-6, 9}
     * @param places places in each row, as in {@code 1-40}; null for all
     */
    public record Plan(
            List<String> steps,
            String block,
            String rows,
            @Nullable String places,
            @Nullable UUID lot,
            @Nullable LocalDate due,
            List<UUID> people,
            @Nullable String note) {
        public Plan {
            steps = List.copyOf(steps);
            people = List.copyOf(people);
        }
    }

    /** How many tasks were made, and how many were planned before. */
    public record Made(int made, int there) {}

    /** Makes a task for every step on every row; what an open task covers already is left as it is. */
    @Transactional
    public Made plan(Plan plan) {
        if (plan.steps().isEmpty()) {
            throw new Refused("work.plan.no-steps").at("steps");
        }
        if (ground.blockByCode(plan.block()).isEmpty()) {
            throw new Refused("work.plan.no-block").at("block");
        }
        SortedSet<Integer> numbers;
        SortedSet<Integer> places;
        try {
            numbers = PlaceRun.numbers(plan.rows());
        } catch (Refused refused) {
            throw refused.at("rows");
        }
        try {
            places = plan.places() == null || plan.places().isBlank() ? null : PlaceRun.numbers(plan.places());
        } catch (Refused refused) {
            throw refused.at("places");
        }
        if ((long) numbers.size() * plan.steps().size() > MOST_TASKS) {
            throw new Refused("work.plan.too-many", MOST_TASKS).at("rows");
        }
        int made = 0;
        int there = 0;
        for (int number : numbers) {
            Row row = ground.row(plan.block(), number)
                    .orElseThrow(() -> new Refused("work.plan.no-row", plan.block(), number).at("rows"));
            for (String step : plan.steps()) {
                if (places == null ? coveredInPart(row, step) : store.overlaps(row.id(), step, places)) {
                    there++;
                    continue;
                }
                UUID lot = takesLot(step) ? plan.lot() : null;
                tasks.create(new NewTask(step, row.id(), lot, places, plan.due(), plan.people(), plan.note()));
                made++;
            }
        }
        return new Made(made, there);
    }

    private boolean coveredInPart(Row row, String step) {
        return store.inRow(row.id()).stream().anyMatch(t -> t.step.equals(step) && t.status.isOpen());
    }

    private static boolean takesLot(String step) {
        return step.equals(TaskService.PLANT);
    }
}
