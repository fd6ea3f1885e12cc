package org.rootling.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Clock;
import java.time.Duration;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.time.temporal.ChronoUnit;
import org.rootling.platform.VineyardTime;
import org.rootling.platform.db.OwnerOnly;
import org.springframework.context.annotation.Profile;
import org.springframework.core.env.Environment;
import org.springframework.stereotype.Component;

/**
 * Shifts the vineyard's time by whole days, so that at the first start it is the demo's planting spring. The shift is kept:
 * from then on the demo's days pass like real ones.
 */
@Component
@Profile("demo")
class DemoClock {

    /** The day on which the demo begins. */
    static final LocalDate FIRST_DAY = LocalDate.of(2027, 5, 24);

    DemoClock(Environment environment, Clock realClock, VineyardTime time) throws IOException {
        Path file = OwnerOnly.directory(Path.of(environment.getRequiredProperty("rootling.home"))
                        .toAbsolutePath())
                .resolve("demo-shift-days");
        if (!Files.exists(file)) {
            LocalDate real = realClock.instant().atZone(ZoneOffset.UTC).toLocalDate();
            OwnerOnly.write(file, Long.toString(ChronoUnit.DAYS.between(real, FIRST_DAY)));
        }
        time.shiftBy(Duration.ofDays(Long.parseLong(Files.readString(file).strip())));
    }
}
