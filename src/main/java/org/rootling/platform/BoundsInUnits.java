package org.rootling.platform;

import jakarta.validation.MessageInterpolator;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import java.lang.annotation.Annotation;
import java.util.Locale;
import org.hibernate.validator.messageinterpolation.HibernateMessageInterpolatorContext;
import org.jspecify.annotations.Nullable;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;

/** Says the bounds of a {@link Measured} field in the reader's unit; everything else as it is said anyway. */
record BoundsInUnits(MessageSource messages, MessageInterpolator otherwise) implements MessageInterpolator {

    @Override
    public String interpolate(String template, Context context) {
        return interpolate(template, context, LocaleContextHolder.getLocale());
    }

    @Override
    public String interpolate(String template, Context context, Locale locale) {
        Measure measure = measure(context);
        Annotation bound = context.getConstraintDescriptor().getAnnotation();
        if (measure != null && bound instanceof DecimalMin least) {
            return say("platform.form.least", measure.least(Double.parseDouble(least.value())), locale);
        }
        if (measure != null && bound instanceof DecimalMax most) {
            return say("platform.form.most", measure.most(Double.parseDouble(most.value())), locale);
        }
        return otherwise.interpolate(template, context, locale);
    }

    private String say(String key, Object bound, Locale locale) {
        return messages.getMessage(key, new Object[] {bound}, locale);
    }

    private static @Nullable Measure measure(Context context) {
        HibernateMessageInterpolatorContext where = context.unwrap(HibernateMessageInterpolatorContext.class);
        try {
            Measured measured = where.getRootBeanType()
                    .getDeclaredField(where.getPropertyPath().toString())
                    .getAnnotation(Measured.class);
            return measured == null ? null : measured.value();
        } catch (NoSuchFieldException partOfAnother) {
            return null;
        }
    }
}
