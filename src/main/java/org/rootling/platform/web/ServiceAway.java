package org.rootling.platform.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Locale;
import java.util.Objects;
import org.apache.tomcat.util.http.InvalidParameterException;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Wordless;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.slf4j.MDC;
import org.springframework.context.MessageSource;
import org.springframework.core.Ordered;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;
import org.springframework.web.filter.OncePerRequestFilter;
import org.springframework.web.util.HtmlUtils;
import tools.jackson.databind.json.JsonMapper;

/**
 * Outermost of all: gives each request its number (in every line of the log, and on every page that shows a fault), notes
 * the faults that nobody else saw, and says so when the database is away or its disk is full. That page is made here from
 * text alone, because every other page, the session and the error page itself need the database.
 */
@Component
@Order(Ordered.HIGHEST_PRECEDENCE + 5)
class ServiceAway extends OncePerRequestFilter {

    private static final Logger LOG = LoggerFactory.getLogger(ServiceAway.class);
    private static final String RETRY_SECONDS = "10";
    private static final int DEEPEST = 30;

    private final MessageSource messages;
    private final RequestLocale locales;
    private final JsonMapper json;

    ServiceAway(MessageSource messages, RequestLocale locales, JsonMapper json) {
        this.messages = messages;
        this.locales = locales;
        this.json = json;
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        String number = RequestNumber.begin(request);
        response.setHeader("X-Request-Number", number);
        try {
            chain.doFilter(request, response);
        } catch (ServletException | IOException | RuntimeException failure) {
            DatabaseTrouble trouble = DatabaseTrouble.of(failure);
            if (trouble != DatabaseTrouble.NONE && !response.isCommitted()) {
                LOG.warn("the database is {}: {}", trouble, rootKind(failure));
                say(trouble, number, request, response);
            } else if (failure instanceof IOException) {
                throw failure;
            } else if (unreadable(failure) instanceof InvalidParameterException asked && !response.isCommitted()) {
                response.sendError(asked.getErrorCode());
            } else {
                // What no controller's advice saw. The server itself would log it with all its words.
                LOG.error("request failed, number {}", number, Wordless.of(failure));
                if (response.isCommitted()) {
                    throw new ServletException(Wordless.of(failure));
                }
                response.sendError(HttpServletResponse.SC_INTERNAL_SERVER_ERROR);
            }
        } finally {
            MDC.remove(RequestNumber.KEY);
        }
    }

    /** The address or body that could not be read, where that is why; whoever asked for its values first met it. */
    private static @Nullable Throwable unreadable(Throwable failure) {
        Throwable cause = failure;
        for (int i = 0; i < DEEPEST && cause != null && !(cause instanceof InvalidParameterException); i++) {
            cause = cause.getCause();
        }
        return cause;
    }

    private void say(DatabaseTrouble trouble, String number, HttpServletRequest request, HttpServletResponse response)
            throws IOException {
        Locale locale = locales.resolveLocale(request);
        String title = text("platform.error.503.title", locale);
        String text =
                text(trouble == DatabaseTrouble.FULL ? "platform.error.503.full" : "platform.error.503.away", locale);
        String quote =
                Objects.requireNonNull(messages.getMessage("platform.error.500.number", new Object[] {number}, locale));
        response.reset();
        response.setStatus(HttpServletResponse.SC_SERVICE_UNAVAILABLE);
        response.setHeader("Retry-After", RETRY_SECONDS);
        response.setHeader("X-Request-Number", number);
        response.setHeader("Cache-Control", "no-store");
        response.setHeader("X-Content-Type-Options", "nosniff");
        response.setCharacterEncoding(StandardCharsets.UTF_8.name());
        if (request.getRequestURI().startsWith("/api/")) {
            response.setContentType("application/problem+json");
            response.getWriter()
                    .write(json.writeValueAsString(new java.util.TreeMap<>(
                            java.util.Map.of("status", 503, "title", title, "detail", text, "number", number))));
            return;
        }
        response.setContentType("text/html");
        response.setHeader("Content-Security-Policy", "default-src 'none'; style-src 'self'; frame-ancestors 'none'");
        response.setHeader("Refresh", RETRY_SECONDS);
        response.getWriter()
                .write("<!DOCTYPE html><html lang=\"" + locale.getLanguage() + "\"><head><meta charset=\"utf-8\">"
                        + "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"><title>"
                        + HtmlUtils.htmlEscape(title) + "</title><link rel=\"stylesheet\" href=\"/css/rootling.css\">"
                        + "</head><body><main id=\"main\"><section class=\"narrow\"><h1>" + HtmlUtils.htmlEscape(title)
                        + "</h1><p>" + HtmlUtils.htmlEscape(text) + "</p><p>" + HtmlUtils.htmlEscape(quote)
                        + "</p></section></main></body></html>");
    }

    private String text(String key, Locale locale) {
        return Objects.requireNonNull(messages.getMessage(key, null, locale));
    }

    private static String rootKind(Throwable failure) {
        Throwable root = failure;
        for (int i = 0; i < DEEPEST && root.getCause() != null; i++) {
            root = root.getCause();
        }
        return root.getClass().getSimpleName();
    }
}
