package org.rootling.security;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.classic.spi.ThrowableProxyUtil;
import ch.qos.logback.core.read.ListAppender;
import java.util.UUID;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.web.servlet.MockMvc;

/** The log names requests by number and people not at all, also where things go wrong. */
@AppTest
class NothingPersonalInTheLogTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    MockMvc mvc;

    @Autowired
    JdbcClient jdbc;

    private final ListAppender<ILoggingEvent> log = new ListAppender<>();

    @BeforeEach
    void listen() {
        log.start();
        root().addAppender(log);
    }

    @AfterEach
    void stop() {
        root().detachAppender(log);
    }

    private static Logger root() {
        return (Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
    }

    @Test
    void neitherSigningInNorJoiningNorAFaultWritesWhoItWas() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.LEAD);
        for (String password : new String[] {"wrong grape xyz", TestVineyards.PASSWORD}) {
            mvc.perform(post("/sign-in")
                    .with(csrf())
                    .with(request -> {
                        request.setRemoteAddr("203.0.113.77");
                        return request;
                    })
                    .param("email", email)
                    .param("password", password));
        }
        var owner = vineyard.as(Role.OWNER);
        owner.send("/people/invitations", "role", "HELPER", "days", "7", "note", "for Wilhelmina Secret");
        owner.send("/tokens", "name", "my phone Secret", "role", "READER");
        owner.send("/settings", "name", "Secret Hill", "zone", "Europe/London", "version", "0");
        // The database itself refuses a row that carries a name.
        vineyard.run(() -> {
            try {
                jdbc.sql("insert into own_variety (id, name, colour) values (:id, :name, 'PURPLE')")
                        .param("id", UUID.randomUUID())
                        .param("name", "Wilhelmina Secret")
                        .update();
            } catch (org.springframework.dao.DataIntegrityViolationException refused) {
                LoggerFactory.getLogger("org.rootling.test").warn("the database refused", refused);
            }
        });

        StringBuilder all = new StringBuilder();
        for (ILoggingEvent event : log.list) {
            all.append(event.getFormattedMessage()).append('\n');
            if (event.getThrowableProxy() != null) {
                all.append(ThrowableProxyUtil.asString(event.getThrowableProxy()));
            }
        }
        assertThat(all.toString())
                .contains("the database refused")
                .doesNotContain(email, "Secret", "203.0.113.77", "wrong grape", TestVineyards.PASSWORD, "Lew Lead");
    }
}
