package org.rootling.platform;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.Set;
import java.util.TreeSet;
import org.hibernate.validator.messageinterpolation.ResourceBundleMessageInterpolator;
import org.springframework.context.MessageSource;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;
import org.springframework.core.io.Resource;
import org.springframework.core.io.support.PathMatchingResourcePatternResolver;
import org.springframework.validation.beanvalidation.LocalValidatorFactoryBean;
import org.springframework.validation.beanvalidation.MessageSourceResourceBundleLocator;

/** One message file per module, found by looking: {@code messages/MODULE.properties} and its translations. */
@Configuration(proxyBeanMethods = false)
class MessagesConfig {

    @Bean
    MessageSource messageSource() {
        return new UnitMessages(basenames());
    }

    @Bean
    static LocalValidatorFactoryBean defaultValidator(MessageSource messageSource) {
        LocalValidatorFactoryBean validator = new LocalValidatorFactoryBean();
        validator.setMessageInterpolator(new BoundsInUnits(
                messageSource,
                new ResourceBundleMessageInterpolator(new MessageSourceResourceBundleLocator(messageSource))));
        return validator;
    }

    private static Set<String> basenames() {
        try {
            Set<String> names = new TreeSet<>();
            for (Resource file :
                    new PathMatchingResourcePatternResolver().getResources("classpath*:messages/*.properties")) {
                String name = String.valueOf(file.getFilename()).replaceFirst("\\.properties$", "");
                names.add("messages/" + name.replaceFirst("_(de|fr)$", ""));
            }
            return names;
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }
}
