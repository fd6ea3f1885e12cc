package org.rootling.work.web;

import java.util.ArrayList;
import java.util.List;
import org.rootling.work.Task;

/** The places of a task's row in order, each with what is to do there. */
record Strip(List<Cell> cells) {
    /** One place; {@code state} is done, left, or other (not in this task). */
    record Cell(int place, String state, String sign) {}

    static Strip of(Task task) {
        List<Cell> cells = new ArrayList<>();
        int last = task.places().last();
        for (int p = 1; p <= last; p++) {
            if (task.donePlaces().contains(p)) {
                cells.add(new Cell(p, "done", "✓"));
            } else if (task.places().contains(p)) {
                cells.add(new Cell(p, "left", "○"));
            } else {
                cells.add(new Cell(p, "other", "·"));
            }
        }
        return new Strip(cells);
    }
}
