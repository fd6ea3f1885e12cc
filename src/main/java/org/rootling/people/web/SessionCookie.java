package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import java.time.Duration;
import java.util.List;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.session.web.http.CookieSerializer;
import org.springframework.session.web.http.DefaultCookieSerializer;
import org.springframework.stereotype.Component;

/**
 * The cookie of a session. Behind TLS its name begins with {@code __Host-} (the revision of RFC 6265, "Cookie Name
 * Prefixes"): a browser takes such a cookie only over TLS and from this host, so that no neighbour of the name can plant
 * one. Without TLS, on loopback, browsers refuse that name.
 */
@Component
class SessionCookie implements CookieSerializer {
    private final DefaultCookieSerializer plain;
    private final DefaultCookieSerializer behindTls;

    /** The cookie outlasts the browser's window, since phones end programs as they like; the session's end is ours. */
    SessionCookie(@Value("${rootling.session.longest:60d}") Duration longest) {
        this.plain = named("rootling", longest);
        this.behindTls = named("__Host-rootling", longest);
        behindTls.setCookiePath("/");
        behindTls.setUseSecureCookie(true);
    }

    private static DefaultCookieSerializer named(String name, Duration longest) {
        DefaultCookieSerializer cookie = new DefaultCookieSerializer();
        cookie.setCookieName(name);
        cookie.setCookieMaxAge(Math.toIntExact(longest.toSeconds()));
        cookie.setUseHttpOnlyCookie(true);
        cookie.setSameSite("Lax");
        return cookie;
    }

    private CookieSerializer of(HttpServletRequest request) {
        return request.isSecure() ? behindTls : plain;
    }

    @Override
    public void writeCookieValue(CookieValue value) {
        of(value.getRequest()).writeCookieValue(value);
    }

    @Override
    public List<String> readCookieValues(HttpServletRequest request) {
        return of(request).readCookieValues(request);
    }
}
