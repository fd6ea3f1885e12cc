package org.rootling.platform.web;

import jakarta.servlet.http.HttpServletRequest;
import java.net.URI;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.platform.Wordless;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.context.MessageSource;
import org.springframework.core.annotation.Order;
import org.springframework.dao.ConcurrencyFailureException;
import org.springframework.dao.DataIntegrityViolationException;
import org.springframework.http.HttpStatus;
import org.springframework.security.access.AccessDeniedException;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.method.annotation.MethodArgumentTypeMismatchException;
import org.springframework.web.multipart.MaxUploadSizeExceededException;
import org.springframework.web.servlet.ModelAndView;

/** What a page shows when it cannot do what was asked; never an exception's text. */
@ControllerAdvice(annotations = Controller.class)
@Order(20)
class ErrorPages {

    private static final Logger LOG = LoggerFactory.getLogger(ErrorPages.class);

    private static final Set<String> UNSHOWN = Set.of("version", "once", "password", "present");

    private final MessageSource messages;

    ErrorPages(MessageSource messages) {
        this.messages = messages;
    }

    @ExceptionHandler(NotFound.class)
    ModelAndView notFound() {
        return page("error/404", HttpStatus.NOT_FOUND);
    }

    @ExceptionHandler(MethodArgumentTypeMismatchException.class)
    ModelAndView notAnId() {
        return page("error/404", HttpStatus.NOT_FOUND);
    }

    @ExceptionHandler(AccessDeniedException.class)
    ModelAndView denied() {
        return page("error/403", HttpStatus.FORBIDDEN);
    }

    @ExceptionHandler(FormOnce.AlreadyTaken.class)
    ModelAndView alreadyTaken() {
        return page("error/already-taken", HttpStatus.OK);
    }

    @ExceptionHandler({Stale.class, ConcurrencyFailureException.class})
    ModelAndView stale(RuntimeException failure, HttpServletRequest request) {
        if (DatabaseTrouble.of(failure) != DatabaseTrouble.NONE) {
            throw failure;
        }
        ModelAndView page = page("error/409", HttpStatus.CONFLICT);
        Map<String, String> typed = new TreeMap<>();
        request.getParameterMap().forEach((name, values) -> {
            String text = String.join(", ", values);
            if (!UNSHOWN.contains(name) && !name.startsWith("_") && !text.isBlank()) {
                typed.put(name, text.length() > 500 ? text.substring(0, 500) + "…" : text);
            }
        });
        page.addObject("typed", typed);
        page.addObject("now", pathOfReferer(request));
        return page;
    }

    /** The page that the form stood on, if it is one of ours; never another site. */
    private static @Nullable String pathOfReferer(HttpServletRequest request) {
        String referer = request.getHeader("Referer");
        try {
            URI from = referer == null ? null : URI.create(referer);
            return from == null
                            || from.getPath() == null
                            || !request.getServerName().equals(from.getHost())
                    ? null
                    : from.getRawQuery() == null ? from.getPath() : from.getPath() + "?" + from.getRawQuery();
        } catch (IllegalArgumentException notAnAddress) {
            return null;
        }
    }

    @ExceptionHandler(MaxUploadSizeExceededException.class)
    ModelAndView tooLarge() {
        return refusal("platform.error.too-large", HttpStatus.CONTENT_TOO_LARGE);
    }

    @ExceptionHandler(Refused.class)
    ModelAndView refused(Refused refused, HttpServletRequest request) {
        ModelAndView page = page("error/refused", HttpStatus.UNPROCESSABLE_CONTENT);
        page.addObject(
                "reason",
                messages.getMessage(
                        refused.key(),
                        refused.args(),
                        refused.key(),
                        org.springframework.context.i18n.LocaleContextHolder.getLocale()));
        return page;
    }

    /** The database refused a state that the services did not foresee: a bug to mend, but nothing was stored. */
    @ExceptionHandler(DataIntegrityViolationException.class)
    ModelAndView databaseRefused(DataIntegrityViolationException failure) {
        if (DatabaseTrouble.of(failure) != DatabaseTrouble.NONE) {
            throw failure;
        }
        LOG.warn("the database refused", Wordless.of(failure));
        return refusal("platform.error.database-refused", HttpStatus.UNPROCESSABLE_CONTENT);
    }

    @ExceptionHandler(Exception.class)
    ModelAndView unexpected(Exception failure) throws Exception {
        if (failure instanceof org.springframework.web.ErrorResponse response
                && response.getStatusCode().is4xxClientError()) {
            HttpStatus status = HttpStatus.valueOf(response.getStatusCode().value());
            return status == HttpStatus.NOT_FOUND
                    ? page("error/404", status)
                    : refusal("platform.error.bad-request", status);
        }
        if (failure instanceof org.springframework.web.bind.ServletRequestBindingException
                || failure instanceof org.springframework.validation.BindException
                || failure instanceof org.springframework.beans.TypeMismatchException) {
            return refusal("platform.error.bad-request", HttpStatus.BAD_REQUEST);
        }
        if (DatabaseTrouble.of(failure) != DatabaseTrouble.NONE) {
            throw failure;
        }
        String number = RequestNumber.current();
        LOG.error("request failed, number {}", number, Wordless.of(failure));
        ModelAndView page = page("error/500", HttpStatus.INTERNAL_SERVER_ERROR);
        page.addObject("number", number);
        return page;
    }

    private ModelAndView refusal(String key, HttpStatus status) {
        ModelAndView page = page("error/refused", status);
        page.addObject(
                "reason",
                messages.getMessage(key, null, org.springframework.context.i18n.LocaleContextHolder.getLocale()));
        return page;
    }

    private static ModelAndView page(String view, HttpStatus status) {
        ModelAndView page = new ModelAndView(view);
        page.setStatus(status);
        return page;
    }
}
