package org.rootling.work.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
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
    }

    @Override
    public void playSeasons(LocalDate from, int seasons, long seed) {
        outlooks.start(from, seasons, seed);
    }
}
