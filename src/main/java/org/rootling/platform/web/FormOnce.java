package org.rootling.platform.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.UUID;
import org.aspectj.lang.ProceedingJoinPoint;
import org.aspectj.lang.annotation.Around;
import org.aspectj.lang.annotation.Aspect;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Tenancy;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.validation.BindingResult;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;

/**
 * Takes a form that carries a number ({@code once}) exactly once: the number is stored in the same transaction as the
 * form's work. A form that is refused leaves no number behind and can be sent again.
 */
@Aspect
@Component
class FormOnce {

    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;

    FormOnce(JdbcClient jdbc, TransactionTemplate transaction) {
        this.jdbc = jdbc;
        this.transaction = transaction;
    }

    @Around("@annotation(org.springframework.web.bind.annotation.PostMapping)"
            + " && @within(org.springframework.stereotype.Controller) && within(org.rootling..*)")
    @Nullable
    Object once(ProceedingJoinPoint call) throws Throwable {
        UUID number = number();
        if (number == null || Tenancy.vineyardOrNull() == null) {
            return call.proceed();
        }
        try {
            return transaction.execute(status -> {
                int first = jdbc.sql("insert into form_receipt (id) values (:id) on conflict do nothing")
                        .param("id", number)
                        .update();
                if (first == 0) {
                    throw new AlreadyTaken();
                }
                Object view;
                try {
                    view = call.proceed();
                } catch (RuntimeException | Error failure) {
                    throw failure;
                } catch (Throwable failure) {
                    throw new Wrapped(failure);
                }
                if (hasErrors(call.getArgs())) {
                    status.setRollbackOnly();
                }
                return view;
            });
        } catch (Wrapped wrapped) {
            throw wrapped.cause;
        }
    }

    private static boolean hasErrors(Object[] arguments) {
        for (Object argument : arguments) {
            if (argument instanceof BindingResult errors && errors.hasErrors()) {
                return true;
            }
        }
        return false;
    }

    private static @Nullable UUID number() {
        if (RequestContextHolder.getRequestAttributes() instanceof ServletRequestAttributes attributes) {
            HttpServletRequest request = attributes.getRequest();
            String text = request.getParameter("once");
            try {
                return text == null || text.length() != 36 ? null : UUID.fromString(text);
            } catch (IllegalArgumentException notANumber) {
                return null;
            }
        }
        return null;
    }

    /** The form was already taken. */
    static final class AlreadyTaken extends RuntimeException {}

    private static final class Wrapped extends RuntimeException {
        private final Throwable cause;

        Wrapped(Throwable cause) {
            super(cause);
            this.cause = cause;
        }
    }
}
