package org.rootling.support;

import java.util.HashMap;
import java.util.Map;
import org.springframework.context.ApplicationContextInitializer;
import org.springframework.context.ConfigurableApplicationContext;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.core.env.MapPropertySource;

/** Points a test's application at the test database, before it would start one of its own. */
@Order(Ordered.HIGHEST_PRECEDENCE)
public class TestDatabaseInitializer implements ApplicationContextInitializer<ConfigurableApplicationContext> {

    @Override
    public void initialize(ConfigurableApplicationContext context) {
        Map<String, Object> properties = new HashMap<>(TestDatabase.properties());
        properties.put("rootling.connections", "8");
        properties.put("rootling.secret-key", "dGhlIHRlc3RzIGtlZXAgdGhlaXIgc2VjcmV0cyBoaWQ=");
        properties.put("rootling.limits.passwords-a-minute", "100000");
        properties.put("rootling.password-rounds", "1000");
        properties.put("rootling.limits.files-a-minute", "100000");
        properties.put("rootling.jobs.first-after", "PT24H");
        context.getEnvironment().addActiveProfile("test");
        context.getEnvironment().getPropertySources().addFirst(new MapPropertySource("test-database", properties));
    }
}
