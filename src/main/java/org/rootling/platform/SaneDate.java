package org.rootling.platform;

import jakarta.validation.Constraint;
import jakarta.validation.ConstraintValidator;
import jakarta.validation.ConstraintValidatorContext;
import jakarta.validation.Payload;
import java.lang.annotation.ElementType;
import java.lang.annotation.Retention;
import java.lang.annotation.RetentionPolicy;
import java.lang.annotation.Target;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;

/** A date from 1990 to 2100; null is left to {@code @NotNull}. */
@Target({ElementType.FIELD, ElementType.PARAMETER, ElementType.TYPE_USE})
@Retention(RetentionPolicy.RUNTIME)
@Constraint(validatedBy = SaneDate.Check.class)
public @interface SaneDate {

    String message() default "{platform.form.date-out-of-range}";

    Class<?>[] groups() default {};

    Class<? extends Payload>[] payload() default {};

    /** The check itself. */
    class Check implements ConstraintValidator<SaneDate, LocalDate> {
        @Override
        public boolean isValid(@Nullable LocalDate date, ConstraintValidatorContext context) {
            return date == null || (date.getYear() >= 1990 && date.getYear() <= 2100);
        }
    }
}
