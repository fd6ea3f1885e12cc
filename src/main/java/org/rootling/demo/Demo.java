package org.rootling.demo;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import org.rootling.people.Founding;
import org.rootling.people.Role;
import org.rootling.platform.Tenancy;
import org.rootling.platform.db.OwnerOnly;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.ApplicationArguments;
import org.springframework.boot.ApplicationRunner;
import org.springframework.context.annotation.Profile;
import org.springframework.core.env.Environment;
import org.springframework.stereotype.Component;
import tools.jackson.databind.json.JsonMapper;

/** Seeds the demo at the first start and prints its sign-ins at every start. */
@Component
@Profile("demo")
class Demo implements ApplicationRunner {

    private static final Logger LOG = LoggerFactory.getLogger(Demo.class);

    private final Founding founding;
    private final QuillowBank scenario;
    private final Path signIns;
    private final JsonMapper json;

    Demo(Founding founding, QuillowBank scenario, Environment environment, JsonMapper json) {
        this.founding = founding;
        this.scenario = scenario;
        this.json = json;
        this.signIns = Path.of(environment.getRequiredProperty("rootling.home"))
                .toAbsolutePath()
                .resolve("demo-sign-ins.json");
    }

    @Override
    public void run(ApplicationArguments arguments) throws IOException {
        if (founding.isNew()) {
            seed();
        }
        if (Files.exists(signIns)) {
            LOG.info("Demo sign-ins, also in {}:\n{}", signIns, Files.readString(signIns));
        } else {
            LOG.warn("This folder holds no finished demo. Use a new one: --rootling.home=DIR");
        }
    }

    private void seed() throws IOException {
        Founding.Seat owner = founding.found(
                "Quillow Bank",
                ZoneId.of("Europe/Berlin"),
                50.05,
                8.15,
                140,
                "marit@quillow-bank.example",
                "Marit Quill");
        List<Founding.Seat> seats = new ArrayList<>(List.of(owner));
        seats.add(founding.add(owner, Role.LEAD, "jonas@quillow-bank.example", "Jonas Feld"));
        seats.add(founding.add(owner, Role.HELPER, "tilde@quillow-bank.example", "Tilde Moor"));
        seats.add(founding.add(owner, Role.READER, "ansgar@quillow-bank.example", "Ansgar Vogt"));
        Tenancy.run(owner.vineyardId(), owner.accountId(), () -> scenario.seed(seats));
        List<Map<String, String>> printed = new ArrayList<>();
        for (Founding.Seat seat : seats) {
            printed.add(new java.util.TreeMap<>(Map.of(
                    "role", seat.role().name().toLowerCase(java.util.Locale.ROOT),
                    "email", seat.email(),
                    "password", seat.password(),
                    "apiToken", seat.apiToken())));
        }
        OwnerOnly.write(signIns, json.writerWithDefaultPrettyPrinter().writeValueAsString(printed));
    }
}
