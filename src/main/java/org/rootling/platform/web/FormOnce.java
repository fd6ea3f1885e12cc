package org.rootling.platform.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.UUID;
import java.util.concurrent.Callable;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Tenancy;
import org.springframework.boot.webmvc.autoconfigure.WebMvcRegistrations;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.context.request.RequestContextHolder;
import org.springframework.web.context.request.ServletRequestAttributes;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerAdapter;
import org.springframework.web.servlet.mvc.method.annotation.ServletInvocableHandlerMethod;

/**
 * Takes a form that carries a number ({@code once}) exactly once: the number is stored in the same transaction as the
 * form's work. A form that is refused leaves no number behind and can be sent again.
 */
@Component
class FormOnce implements WebMvcRegistrations {

    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;

    FormOnce(JdbcClient jdbc, TransactionTemplate transaction) {
        this.jdbc = jdbc;
        this.transaction = transaction;
    }

    /** Pages are called as they are, without a proxy for each: what goes round a form goes round its call here. */
    @Override
    public RequestMappingHandlerAdapter getRequestMappingHandlerAdapter() {
        return new RequestMappingHandlerAdapter() {
            @Override
            protected ServletInvocableHandlerMethod createInvocableHandlerMethod(HandlerMethod method) {
                return isForm(method) ? new Form(method) : super.createInvocableHandlerMethod(method);
            }
        };
    }

    private static boolean isForm(HandlerMethod method) {
        return method.hasMethodAnnotation(PostMapping.class)
                && method.getBeanType().isAnnotationPresent(Controller.class);
    }

    private final class Form extends ServletInvocableHandlerMethod {

        Form(HandlerMethod method) {
            super(method);
        }

        @Override
        protected @Nullable Object doInvoke(@Nullable Object... arguments) throws Exception {
            return once(arguments, () -> super.doInvoke(arguments));
        }
    }

    private @Nullable Object once(@Nullable Object[] arguments, Callable<@Nullable Object> call) throws Exception {
        UUID number = number();
        if (number == null || Tenancy.vineyardOrNull() == null) {
            return call.call();
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
                    view = call.call();
                } catch (RuntimeException failure) {
                    throw failure;
                } catch (Exception failure) {
                    throw new Wrapped(failure);
                }
                if (hasErrors(arguments)) {
                    status.setRollbackOnly();
                }
                return view;
            });
        } catch (Wrapped wrapped) {
            throw wrapped.cause;
        }
    }

    private static boolean hasErrors(@Nullable Object[] arguments) {
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
        private final Exception cause;

        Wrapped(Exception cause) {
            super(cause);
            this.cause = cause;
        }
    }
}
