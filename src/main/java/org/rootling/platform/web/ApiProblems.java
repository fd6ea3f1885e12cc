package org.rootling.platform.web;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.platform.Wordless;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.core.annotation.Order;
import org.springframework.dao.ConcurrencyFailureException;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.http.HttpStatusCode;
import org.springframework.http.ProblemDetail;
import org.springframework.http.ResponseEntity;
import org.springframework.http.converter.HttpMessageNotReadableException;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.validation.FieldError;
import org.springframework.web.bind.MethodArgumentNotValidException;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.bind.annotation.RestControllerAdvice;
import org.springframework.web.context.request.WebRequest;
import org.springframework.web.method.annotation.MethodArgumentTypeMismatchException;
import org.springframework.web.servlet.mvc.method.annotation.ResponseEntityExceptionHandler;

/** Problems of the API as RFC 9457, with the same words as on the pages. */
@RestControllerAdvice(annotations = RestController.class)
@Order(10)
class ApiProblems extends ResponseEntityExceptionHandler {

    private static final Logger LOG = LoggerFactory.getLogger(ApiProblems.class);

    private final MessageSource messages;

    ApiProblems(MessageSource messages) {
        this.messages = messages;
    }

    @ExceptionHandler(Refused.class)
    ProblemDetail refused(Refused refused) {
        ProblemDetail problem =
                ProblemDetail.forStatusAndDetail(HttpStatus.UNPROCESSABLE_CONTENT, text(refused.key(), refused.args()));
        problem.setProperty("reason", refused.key());
        if (refused.field() != null) {
            problem.setProperty("field", refused.field());
        }
        return problem;
    }

    @ExceptionHandler({NotFound.class, MethodArgumentTypeMismatchException.class})
    ProblemDetail notFound() {
        return ProblemDetail.forStatusAndDetail(HttpStatus.NOT_FOUND, text("platform.error.not-found-detail"));
    }

    @ExceptionHandler(AccessDeniedException.class)
    ProblemDetail denied() {
        return ProblemDetail.forStatusAndDetail(HttpStatus.FORBIDDEN, text("platform.error.denied-detail"));
    }

    @ExceptionHandler({Stale.class, ConcurrencyFailureException.class})
    ProblemDetail stale() {
        return ProblemDetail.forStatusAndDetail(HttpStatus.CONFLICT, text("platform.error.stale-detail"));
    }

    @ExceptionHandler(DataIntegrityViolationException.class)
    ProblemDetail databaseRefused(DataIntegrityViolationException failure) {
        LOG.warn("the database refused", Wordless.of(failure));
        return ProblemDetail.forStatusAndDetail(
                HttpStatus.UNPROCESSABLE_CONTENT, text("platform.error.database-refused"));
    }

    @ExceptionHandler(Exception.class)
    ProblemDetail unexpected(Exception failure) throws Exception {
        if (DatabaseTrouble.of(failure) != DatabaseTrouble.NONE) {
            throw failure;
        }
        String number = RequestNumber.current();
        LOG.error("request failed, number {}", number, Wordless.of(failure));
        ProblemDetail problem = ProblemDetail.forStatusAndDetail(
                HttpStatus.INTERNAL_SERVER_ERROR, text("platform.error.unexpected-detail", number));
        problem.setProperty("number", number);
        return problem;
    }

    @Override
    protected ResponseEntity<Object> handleMethodArgumentNotValid(
            MethodArgumentNotValidException failure, HttpHeaders headers, HttpStatusCode status, WebRequest request) {
        Locale locale = LocaleContextHolder.getLocale();
        List<Map<String, String>> errors = new ArrayList<>();
        failure.getBindingResult().getAllErrors().forEach(error -> {
            String field = error instanceof FieldError fieldError ? fieldError.getField() : error.getObjectName();
            errors.add(Map.of("field", field, "message", messages.getMessage(error, locale)));
        });
        ProblemDetail problem = ProblemDetail.forStatusAndDetail(
                HttpStatus.BAD_REQUEST,
                errors.isEmpty()
                        ? text("platform.error.bad-request")
                        : errors.get(0).get("field") + ": " + errors.get(0).get("message"));
        problem.setProperty("errors", errors);
        return ResponseEntity.badRequest().body(problem);
    }

    @Override
    protected ResponseEntity<Object> handleHttpMessageNotReadable(
            HttpMessageNotReadableException failure, HttpHeaders headers, HttpStatusCode status, WebRequest request) {
        return ResponseEntity.badRequest()
                .body(ProblemDetail.forStatusAndDetail(HttpStatus.BAD_REQUEST, text("platform.error.unreadable")));
    }

    private String text(String key, @org.jspecify.annotations.Nullable Object... args) {
        return java.util.Objects.requireNonNull(messages.getMessage(key, args, key, LocaleContextHolder.getLocale()));
    }
}
