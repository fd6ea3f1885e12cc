package org.rootling.support;

import ch.qos.logback.classic.Level;
import ch.qos.logback.classic.Logger;
import ch.qos.logback.classic.LoggerContext;
import ch.qos.logback.classic.spi.ILoggingEvent;
import ch.qos.logback.core.read.ListAppender;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.slf4j.LoggerFactory;
import org.springframework.boot.logging.logback.StructuredLogEncoder;
import org.springframework.core.env.Environment;
import org.springframework.core.env.StandardEnvironment;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** All that is logged from INFO on while it is open, as lines of JSON in the format that the README names. */
public final class TestLog implements AutoCloseable {

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final ListAppender<ILoggingEvent> events = new ListAppender<>();
    private final StructuredLogEncoder encoder = new StructuredLogEncoder();
    private final Level before;

    private TestLog() {
        LoggerContext context = new LoggerContext();
        context.putObject(Environment.class.getName(), new StandardEnvironment());
        encoder.setContext(context);
        encoder.setFormat("ecs");
        encoder.setCharset(StandardCharsets.UTF_8);
        encoder.start();
        events.start();
        before = root().getLevel();
        // As in service; other tests are quieter.
        root().setLevel(Level.INFO);
        root().addAppender(events);
    }

    public static TestLog open() {
        return new TestLog();
    }

    private static Logger root() {
        return (Logger) LoggerFactory.getLogger(org.slf4j.Logger.ROOT_LOGGER_NAME);
    }

    /** What was logged, a line each, messages and stack traces included. */
    public List<String> lines() {
        return List.copyOf(events.list).stream()
                .map(event -> new String(encoder.encode(event), StandardCharsets.UTF_8))
                .toList();
    }

    /** The same, read back as JSON; throws where a line is none. */
    public List<JsonNode> parsed() {
        return lines().stream().map(JSON::readTree).toList();
    }

    @Override
    public void close() {
        root().detachAppender(events);
        root().setLevel(before);
        encoder.stop();
    }
}
