package org.rootling.platform.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.security.Principal;
import java.time.Clock;
import java.util.Iterator;
import java.util.Locale;
import java.util.Map;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Semaphore;
import java.util.concurrent.TimeUnit;
import java.util.regex.Pattern;
import org.springframework.core.env.Environment;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;
import org.springframework.web.util.UrlPathHelper;

/**
 * Keeps one person, or one stranger's address, from taking all of the server: of the expensive things (files made on
 * demand, uploads, searches, passwords to check) each may do a few at the same time and so many a minute; others wait a
 * moment, and what is beyond that is told to come back (429, RFC 6585). Counted on each node for itself.
 */
public class HeavyWork extends OncePerRequestFilter {

    private static final Pattern MADE_ON_DEMAND = Pattern.compile(".*\\.(pdf|zip|xlsx|csv|geojson|ics)");
    private static final Pattern COMPUTED = Pattern.compile("/api/v1/[a-z-]+-(previews|curves)|.*/schedule");
    private static final Pattern PASSWORDS =
            Pattern.compile("/sign-in(/code)?|/setup|/join/.*|/forgotten|/way-in/.*|/account/.*");
    private static final Pattern LIST_FILE = Pattern.compile("(^|&)list-(csv|xlsx)=");
    private static final long MINUTE = 60_000;

    private final Clock clock;
    private final int atOnce;
    private final int filesAMinute;
    private final int computedAMinute;
    private final int passwordsAMinute;
    private final int waitMs;
    private final Map<String, Share> shares = new ConcurrentHashMap<>();

    private static final class Share {
        private final Semaphore atOnce;
        private long minute;
        private int taken;
        private volatile long seen;

        Share(int atOnce) {
            this.atOnce = new Semaphore(atOnce, true);
        }

        synchronized boolean take(long now, int most) {
            seen = now;
            if (now / MINUTE != minute) {
                minute = now / MINUTE;
                taken = 0;
            }
            return ++taken <= most;
        }
    }

    public HeavyWork(Clock clock, Environment environment) {
        this.clock = clock;
        this.atOnce = environment.getProperty("rootling.limits.at-once", Integer.class, 4);
        this.filesAMinute = environment.getProperty("rootling.limits.files-a-minute", Integer.class, 240);
        this.computedAMinute = environment.getProperty("rootling.limits.computed-a-minute", Integer.class, 3000);
        this.passwordsAMinute = environment.getProperty("rootling.limits.passwords-a-minute", Integer.class, 600);
        this.waitMs = environment.getProperty("rootling.limits.wait-ms", Integer.class, 20_000);
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        String kind = kind(request);
        if (kind == null) {
            chain.doFilter(request, response);
            return;
        }
        long now = clock.millis();
        forgetOld(now);
        Share share = shares.computeIfAbsent(kind + " " + who(request), key -> new Share(atOnce));
        if (!share.take(now, most(kind))) {
            refuse(response);
            return;
        }
        boolean admitted;
        try {
            admitted = share.atOnce.tryAcquire(waitMs, TimeUnit.MILLISECONDS);
        } catch (InterruptedException stopping) {
            Thread.currentThread().interrupt();
            admitted = false;
        }
        if (!admitted) {
            refuse(response);
            return;
        }
        try {
            chain.doFilter(request, response);
        } finally {
            share.atOnce.release();
        }
    }

    private static void refuse(HttpServletResponse response) throws IOException {
        response.setHeader("Retry-After", "60");
        response.sendError(429);
    }

    private int most(String kind) {
        return switch (kind) {
            case "computed" -> computedAMinute;
            case "password" -> passwordsAMinute;
            default -> filesAMinute;
        };
    }

    private static @org.jspecify.annotations.Nullable String kind(HttpServletRequest request) {
        // As the routes are matched: decoded, so that "/sign-%69n" counts as well.
        String path = UrlPathHelper.defaultInstance.getPathWithinApplication(request);
        boolean post = request.getMethod().equals("POST");
        String type = String.valueOf(request.getContentType()).toLowerCase(Locale.ROOT);
        if (post && PASSWORDS.matcher(path).matches()) {
            return "password";
        }
        if (post && type.startsWith("multipart/")) {
            return "file";
        }
        String query = request.getQueryString();
        if (query != null && LIST_FILE.matcher(query).find()) {
            return "file";
        }
        if (post && COMPUTED.matcher(path).matches()) {
            return "computed";
        }
        boolean inside = path.startsWith("/v/") || path.startsWith("/calendar/");
        return inside && MADE_ON_DEMAND.matcher(path).matches() ? "file" : null;
    }

    /** The account or token's person, or the address of someone who is not known. */
    private static String who(HttpServletRequest request) {
        Authentication known = SecurityContextHolder.getContext().getAuthentication();
        Object person = known == null ? null : known.getPrincipal();
        return known != null
                        && (person instanceof Principal
                                || person instanceof org.springframework.security.core.userdetails.UserDetails)
                ? known.getName()
                : "at " + request.getRemoteAddr();
    }

    private void forgetOld(long now) {
        if (shares.size() > 10_000) {
            for (Iterator<Share> all = shares.values().iterator(); all.hasNext(); ) {
                Share share = all.next();
                if (now - share.seen > 2 * MINUTE && share.atOnce.availablePermits() == atOnce) {
                    all.remove();
                }
            }
        }
    }
}
