package org.rootling.people.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.util.Locale;
import org.rootling.people.domain.SignedIn;
import org.springframework.security.core.Authentication;
import org.springframework.security.core.context.SecurityContextHolder;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Refuses bodies larger than anything that is asked for, before a byte of them is read or kept. Only an archive may be
 * large, and only from someone who is signed in; a body of unknown length is not taken at all.
 */
class BodyLimit extends OncePerRequestFilter {

    private static final long MB = 1 << 20;
    static final long ARCHIVE = 256 * MB;
    static final long FILE = 14 * MB;
    static final long PLAIN = 4 * MB;
    static final long STRANGER = 64 << 10;

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        long length = request.getContentLengthLong();
        if (length < 0 && request.getHeader("Transfer-Encoding") != null) {
            response.sendError(HttpServletResponse.SC_LENGTH_REQUIRED);
        } else if (length > most(request)) {
            response.sendError(HttpServletResponse.SC_REQUEST_ENTITY_TOO_LARGE);
        } else {
            chain.doFilter(request, response);
        }
    }

    private static long most(HttpServletRequest request) {
        String type = String.valueOf(request.getContentType()).toLowerCase(Locale.ROOT);
        if (request.getRequestURI().startsWith("/api/")) {
            return PLAIN;
        }
        Authentication known = SecurityContextHolder.getContext().getAuthentication();
        if (known == null || !(known.getPrincipal() instanceof SignedIn)) {
            return STRANGER;
        }
        if (!type.startsWith("multipart/")) {
            return PLAIN;
        }
        return request.getRequestURI().endsWith("/archive/restore") ? ARCHIVE : FILE;
    }
}
