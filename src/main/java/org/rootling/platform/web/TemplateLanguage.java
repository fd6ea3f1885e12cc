package org.rootling.platform.web;

import java.time.temporal.TemporalAccessor;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.DateText;
import org.springframework.stereotype.Component;
import org.thymeleaf.context.IExpressionContext;
import org.thymeleaf.dialect.AbstractDialect;
import org.thymeleaf.dialect.IExpressionObjectDialect;
import org.thymeleaf.expression.IExpressionObjectFactory;

/**
 * Makes {@code #temporals} write dates as the reader's language does. The engine asks the dialect added last, and beans
 * are added after its own.
 */
@Component
class TemplateLanguage extends AbstractDialect implements IExpressionObjectDialect {

    private static final Temporals TEMPORALS = new Temporals();

    TemplateLanguage() {
        super("dates");
    }

    /** What {@code #temporals} can do in our templates. */
    public static final class Temporals {
        public @Nullable String format(@Nullable TemporalAccessor when, String pattern) {
            return DateText.format(when, pattern);
        }
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
