package org.rootling.training.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.rootling.planting.Vines;
import org.rootling.platform.Tenancy;
import org.rootling.training.CareLine;
import org.rootling.training.calc.Due;
import org.rootling.work.LoggedWork;
import org.rootling.work.StepEffect;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Propagation;
import org.springframework.transaction.annotation.Transactional;

/**
 * Logged work ticks its checklist item by itself, where exactly one item of that step is due in the row or about to be.
 * Where several are, or the step is a mere look, a person has to say what was done.
 */
@Component
@Order(20)
@Transactional(propagation = Propagation.MANDATORY)
class CareEffect implements StepEffect {

    /** Work done this many days before an item falls due counts for it. */
    private static final int EARLY_DAYS = 10;

    private static final Set<String> SAYS_TOO_LITTLE = Set.of("CHECK", "PLANT");

    private final YearOneService yearOne;
    private final Vines vines;

    CareEffect(YearOneService yearOne, Vines vines) {
        this.yearOne = yearOne;
        this.vines = vines;
    }

    @Override
    public boolean handles(String step) {
        return !SAYS_TOO_LITTLE.contains(step);
    }

    @Override
    public boolean concerns(String step, UUID rowId) {
        return handles(step)
                && vines.tally(rowId).filter(t -> t.tally().present() > 0).isPresent();
    }

    @Override
    public void logged(LoggedWork work) {
        boolean anyVine = vines.inRow(work.rowId()).stream()
                .anyMatch(v -> v.state().alive()
                        && work.places().contains(v.place())
                        && !work.on().isBefore(v.plantedOn()));
        if (!anyVine) {
            return;
        }
        List<CareLine> meant = yearOne.row(work.rowId()).lines().stream()
                .filter(line -> work.step().equals(line.item().step()) && isMeant(line, work.on()))
                .toList();
        if (meant.size() == 1) {
            yearOne.tick(
                    Set.of(meant.get(0).item().id()),
                    Map.of(work.rowId(), work.places()),
                    work.on(),
                    null,
                    work.by(),
                    work.logId());
        }
    }

    private static boolean isMeant(CareLine line, LocalDate on) {
        if (line.done() >= line.of()) {
            return false;
        }
        LocalDate from = line.due().from();
        return line.open()
                || (line.due().status() == Due.Status.AHEAD
                        && from != null
                        && !from.isAfter(on.plusDays(EARLY_DAYS))
                        && line.item().rule().repeatDays() == null);
    }

    @Override
    public void undone(LoggedWork work) {
        UUID acting = Tenancy.accountOrNull();
        yearOne.untickLog(work.logId(), acting == null ? work.by() : acting);
    }
}
