package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.UncheckedIOException;
import java.time.Duration;
import java.util.Base64;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Vault;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.http.HttpHeaders;
import org.springframework.http.ResponseCookie;
import org.springframework.stereotype.Component;
import org.springframework.web.util.WebUtils;

/**
 * Tells a browser that someone has signed in with before from all others, so that a stranger's wrong guesses make nobody
 * wait on their own phone: each such browser has guesses of its own. It knows by a cookie that only we can make (OWASP,
 * "Slow Down Online Guessing Attacks with Device Cookies"); who steals it gains five guesses and nothing else.
 */
@Component
class KnownDevice {

    /** As long as browsers keep a cookie (the revision of RFC 6265, "Cookie Lifetime Limits"; the number from memory). */
    private static final Duration KEPT = Duration.ofDays(400);

    private static final Logger LOG = LoggerFactory.getLogger(KnownDevice.class);

    private final Vault vault;

    KnownDevice(Vault vault) {
        this.vault = vault;
    }

    /** Under what failures of this browser for this address are counted. */
    String name(HttpServletRequest request, String email) {
        String known = cookie(request, email);
        return known == null ? email : "device " + known;
    }

    /** Knows the browser from now on as one that this address signs in with; without a key nobody is kept out for it. */
    void remember(HttpServletRequest request, HttpServletResponse response, String email) {
        String known = cookie(request, email);
        String value;
        try {
            value = known == null ? text(vault.lock(new byte[0], owner(email))) : known;
        } catch (IllegalArgumentException | IllegalStateException | UncheckedIOException noKey) {
            LOG.warn("Browsers are not known again: the key of secrets cannot be read", noKey);
            return;
        }
        response.addHeader(
                HttpHeaders.SET_COOKIE,
                ResponseCookie.from(cookieName(request), value)
                        .httpOnly(true)
                        .secure(request.isSecure())
                        .sameSite("Lax")
                        .path("/")
                        .maxAge(KEPT)
                        .build()
                        .toString());
    }

    private @Nullable String cookie(HttpServletRequest request, String email) {
        jakarta.servlet.http.Cookie cookie = WebUtils.getCookie(request, cookieName(request));
        try {
            if (cookie == null) {
                return null;
            }
            byte[] locked = Base64.getUrlDecoder().decode(cookie.getValue());
            vault.open(locked, owner(email));
            // As we write it: other spellings of the same bytes would each have guesses of their own.
            return text(locked);
        } catch (IllegalArgumentException | IllegalStateException | UncheckedIOException notOurs) {
            return null;
        }
    }

    private static String text(byte[] locked) {
        return Base64.getUrlEncoder().withoutPadding().encodeToString(locked);
    }

    private static String cookieName(HttpServletRequest request) {
        return request.isSecure() ? "__Host-rootling-known" : "rootling-known";
    }

    private static String owner(String email) {
        return "known device of " + email.strip().toLowerCase(Locale.ROOT);
    }
}
