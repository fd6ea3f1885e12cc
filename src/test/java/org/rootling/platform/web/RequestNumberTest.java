package org.rootling.platform.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.sql.SQLException;
import java.sql.SQLTransientConnectionException;
import org.junit.jupiter.api.Test;
import org.slf4j.LoggerFactory;
import org.springframework.context.support.ResourceBundleMessageSource;
import org.springframework.dao.DataAccessResourceFailureException;
import org.springframework.jdbc.UncategorizedSQLException;
import org.springframework.stereotype.Controller;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.MvcResult;
import org.springframework.test.web.servlet.setup.MockMvcBuilders;
import org.springframework.web.bind.annotation.GetMapping;
import tools.jackson.databind.json.JsonMapper;

/** A request goes wrong: its number is on the page and in the log, and the two are the same. */
class RequestNumberTest {

    @Controller
    static class Faulty {
        @GetMapping("/broken")
        String broken() {
            throw new IllegalStateException("a bug");
        }

        @GetMapping("/away")
        String away() {
            throw new DataAccessResourceFailureException("x", new SQLTransientConnectionException("no connection"));
        }

        @GetMapping({"/full", "/api/full"})
        String full() {
            throw new UncategorizedSQLException("x", "insert", new SQLException("No space left on device", "53100"));
        }
    }

    private final MockMvc mvc = MockMvcBuilders.standaloneSetup(new Faulty())
            .setControllerAdvice(new ErrorPages(messages()))
            .setViewResolvers((name, locale) -> (model, request, response) -> {})
            .addFilters(new ServiceAway(
                    messages(), new RequestLocale(), JsonMapper.builder().build()))
            .build();

    private static ResourceBundleMessageSource messages() {
        ResourceBundleMessageSource messages = new ResourceBundleMessageSource();
        messages.setBasenames("messages/platform");
        messages.setDefaultEncoding("UTF-8");
        messages.setFallbackToSystemLocale(false);
        messages.setAlwaysUseMessageFormat(true);
        return messages;
    }

    @Test
    void theNumberOnThePageIsTheNumberInTheLog() throws Exception {
        ListAppender<ILoggingEvent> log = new ListAppender<>();
        log.start();
        Logger logger = (Logger) LoggerFactory.getLogger(ErrorPages.class);
        logger.addAppender(log);
        MvcResult result;
        try {
            result = mvc.perform(get("/broken")).andReturn();
        } finally {
            logger.detachAppender(log);
        }
        Object number = result.getModelAndView().getModel().get("number");
        assertThat(number).asString().matches("[0-9a-f]{8}");
        assertThat(result.getResponse().getStatus()).isEqualTo(500);
        assertThat(result.getResponse().getHeader("X-Request-Number")).isEqualTo(number);
        assertThat(log.list).hasSize(1);
        assertThat(log.list.get(0).getMDCPropertyMap()).containsEntry("request", String.valueOf(number));
        assertThat(log.list.get(0).getFormattedMessage()).contains(String.valueOf(number));
        assertThat(org.slf4j.MDC.get("request")).isNull();
    }

    @Test
    void aDatabaseThatIsAwayOrFullIsSaidPlainly() throws Exception {
        MvcResult away =
                mvc.perform(get("/away").header("Accept-Language", "fr")).andReturn();
        assertThat(away.getResponse().getStatus()).isEqualTo(503);
        assertThat(away.getResponse().getHeader("Retry-After")).isEqualTo("10");
        assertThat(away.getResponse().getContentAsString())
                .contains(String.valueOf(away.getResponse().getHeader("X-Request-Number")))
                .doesNotContain("Exception", "no connection");
        MvcResult full = mvc.perform(get("/full")).andReturn();
        assertThat(full.getResponse().getStatus()).isEqualTo(503);
        assertThat(full.getResponse().getContentAsString()).contains("disk of the server is full");
        MvcResult api = mvc.perform(get("/api/full")).andReturn();
        assertThat(api.getResponse().getContentType()).startsWith("application/problem+json");
        assertThat(JsonMapper.builder()
                        .build()
                        .readTree(api.getResponse().getContentAsString())
                        .get("status")
                        .intValue())
                .isEqualTo(503);
    }
}
