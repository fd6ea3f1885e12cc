package org.rootling.work.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import java.util.function.BooleanSupplier;
import org.rootling.work.Planning;
import org.springframework.stereotype.Component;

@Component
class PlanningDesk implements Planning {
    private final CrewService crew;
    private final ScheduleService schedules;
    private final OutlookService outlooks;

    PlanningDesk(CrewService crew, ScheduleService schedules, OutlookService outlooks) {
        this.crew = crew;
        this.schedules = schedules;
        this.outlooks = outlooks;
    }

    @Override
    public UUID addPerson(NewPerson p) {
        return crew.save(
                null, p.account(), p.name(), p.hours(), p.skills(), p.wage(), p.currency(), List.of(), List.of(), 0);
    }

    @Override
    public void countTool(String name, int count) {
        crew.countTool(name, count);
    }

    @Override
    public void schedule(LocalDate from, int seconds) {
        schedules.start(from, seconds, false);
        waitWhile(() -> schedules.latest().filter(ScheduleService.Run::running).isPresent());
    }

    @Override
    public void playSeasons(LocalDate from, int seasons, long seed) {
        outlooks.start(from, seasons, seed);
        waitWhile(() -> outlooks.latest().filter(OutlookService.Run::running).isPresent());
    }

    /** A minute at most: what runs on then goes on in the background. */
    private static void waitWhile(BooleanSupplier running) {
        for (int i = 0; i < 600 && running.getAsBoolean(); i++) {
            try {
                Thread.sleep(100);
            } catch (InterruptedException stopped) {
                Thread.currentThread().interrupt();
                return;
            }
        }
    }
}
