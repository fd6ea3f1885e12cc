package org.rootling.people.domain;

import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.core.env.Environment;
import org.springframework.core.env.Profiles;
import org.springframework.stereotype.Component;

/** The one-time code, printed in the log, without which nobody can set up an empty Rootling. */
@Component
public class SetupCode {

    private static final Logger LOG = LoggerFactory.getLogger(SetupCode.class);

    private final PeopleService people;
    private final Environment environment;
    private final String code;

    SetupCode(PeopleService people, Environment environment) {
        this.people = people;
        this.environment = environment;
        // Several nodes starting on one empty database can share a code by setting.
        this.code = environment.getProperty(
                "rootling.setup-code",
                Secrets.next().replaceAll("[^A-Za-z0-9]", "").substring(0, 16));
    }

    @EventListener(ApplicationReadyEvent.class)
    void print() {
        if (people.isNew() && !environment.acceptsProfiles(Profiles.of("demo"))) {
            LOG.info("Nothing is set up yet. Open /setup and give this one-time code: {}", code);
        }
    }

    /** Whether the typed code is the printed one. */
    public boolean matches(String typed) {
        return MessageDigest.isEqual(
                code.getBytes(StandardCharsets.UTF_8), typed.strip().getBytes(StandardCharsets.UTF_8));
    }
}
