package org.rootling.work.domain;

import java.math.BigDecimal;
import java.util.List;
import org.rootling.work.Crew;
import org.springframework.stereotype.Component;

/** Lists and adds people through the same service as the pages do. */
@Component
class CrewOnPaper implements Crew {

    private final CrewService crew;

    CrewOnPaper(CrewService crew) {
        this.crew = crew;
    }

    @Override
    public List<Named> present() {
        return crew.people().stream()
                .map(p -> new Named(p.id(), p.account(), p.shown()))
                .toList();
    }

    @Override
    public boolean knows(String name) {
        return crew.people().stream().anyMatch(p -> p.name().equalsIgnoreCase(name));
    }

    @Override
    public void addOnPaper(String name, List<BigDecimal> hours) {
        crew.save(null, null, name, hours, List.of(), null, "EUR", List.of(), List.of(), 0);
    }
}
