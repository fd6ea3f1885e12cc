package org.rootling.exchange.domain;

import org.rootling.people.Vineyards;
import org.rootling.platform.Jobs;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Component;

/** Forgets what work in the background left to be fetched, and archives that were brought and never entered. */
@Component
public class Leftovers {

    private final Vineyards vineyards;
    private final Jobs jobs;
    private final Restore restore;

    Leftovers(Vineyards vineyards, Jobs jobs, Restore restore) {
        this.vineyards = vineyards;
        this.jobs = jobs;
        this.restore = restore;
    }

    @Scheduled(initialDelayString = "${rootling.jobs.first-after:PT5M}", fixedDelayString = "PT1H")
    public void forget() {
        vineyards.forEach(vineyard -> {
            jobs.forgetOld();
            restore.forgetOld();
        });
    }
}
