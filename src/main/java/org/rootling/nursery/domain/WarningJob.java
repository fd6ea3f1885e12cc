package org.rootling.nursery.domain;

import org.rootling.people.Vineyards;
import org.springframework.context.annotation.Configuration;
import org.springframework.scheduling.annotation.EnableScheduling;
import org.springframework.scheduling.annotation.Scheduled;

/** Looks at all holds once a day in every vineyard, soon after its midnight; nodes that come second do nothing. Then
 * writes the day's mails, and sends what waits. */
@Configuration(proxyBeanMethods = false)
@EnableScheduling
class WarningJob {

    private final WarningDesk desk;
    private final Digest digest;
    private final Vineyards vineyards;

    WarningJob(WarningDesk desk, Digest digest, Vineyards vineyards) {
        this.desk = desk;
        this.digest = digest;
        this.vineyards = vineyards;
    }

    @Scheduled(
            initialDelayString = "${rootling.jobs.first-after:PT20S}",
            fixedDelayString = "${rootling.jobs.every:PT10M}")
    void look() {
        vineyards.forEach(vineyard -> {
            desk.look();
            digest.daily();
        });
    }
}
