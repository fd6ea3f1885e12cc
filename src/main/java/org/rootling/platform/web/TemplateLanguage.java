package org.rootling.platform.web;

import java.time.temporal.TemporalAccessor;
import java.util.LinkedHashSet;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.DateText;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.thymeleaf.context.IExpressionContext;
import org.thymeleaf.dialect.AbstractDialect;
import org.thymeleaf.dialect.IDialect;
import org.thymeleaf.dialect.IExpressionObjectDialect;
import org.thymeleaf.expression.IExpressionObjectFactory;
import org.thymeleaf.spring6.SpringTemplateEngine;
import org.thymeleaf.spring6.dialect.SpringStandardDialect;
import org.thymeleaf.templateresolver.ITemplateResolver;

/**
 * The template engine, with {@code #temporals} that writes dates as the reader's language does. The engine asks its
 * dialects in order, so ours stands before the standard one.
 */
@Configuration(proxyBeanMethods = false)
class TemplateLanguage {

    @Bean
    SpringTemplateEngine templateEngine(ObjectProvider<ITemplateResolver> resolvers, ObjectProvider<IDialect> dialects) {
        Set<IDialect> all = new LinkedHashSet<>();
        all.add(new Dates());
        all.add(new SpringStandardDialect());
        dialects.orderedStream().forEach(all::add);
        SpringTemplateEngine engine = new SpringTemplateEngine();
        engine.setDialects(all);
        resolvers.orderedStream().forEach(engine::addTemplateResolver);
        return engine;
    }

    /** What {@code #temporals} can do in our templates. */
    public static final class Temporals {
        public @Nullable String format(@Nullable TemporalAccessor when, String pattern) {
            return DateText.format(when, pattern);
        }
    }

    private static final class Dates extends AbstractDialect implements IExpressionObjectDialect {

        private static final Temporals TEMPORALS = new Temporals();

        Dates() {
            super("dates");
        }

        @Override
        public IExpressionObjectFactory getExpressionObjectFactory() {
            return new IExpressionObjectFactory() {
                @Override
                public Set<String> getAllExpressionObjectNames() {
                    return Set.of("temporals");
                }

                @Override
                public Object buildObject(IExpressionContext context, String name) {
                    return TEMPORALS;
                }

                @Override
                public boolean isCacheable(String name) {
                    return true;
                }
            };
        }
    }
}
