package org.rootling.people.web;

import jakarta.servlet.FilterChain;
import jakarta.servlet.ServletException;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import org.springframework.web.filter.OncePerRequestFilter;

/**
 * Answers what a script sends without a session before one is made for it: its cookie would take the place of the one that
 * a sign-in in the same moment has given the browser.
 */
class ScriptWithoutSession extends OncePerRequestFilter {

    /**
     * Whether a person opens a page by this: as the browser says (Fetch Metadata Request Headers, W3C), or, where it says
     * nothing since the address is not safe, as it asks for a page.
     */
    static boolean opensPage(HttpServletRequest request) {
        String mode = request.getHeader("Sec-Fetch-Mode");
        String accept = request.getHeader("Accept");
        return mode != null ? mode.equals("navigate") : accept == null || accept.contains("text/html");
    }

    @Override
    protected void doFilterInternal(HttpServletRequest request, HttpServletResponse response, FilterChain chain)
            throws ServletException, IOException {
        boolean comesFromBrowser =
                request.getHeader("Sec-Fetch-Mode") != null || request.getRequestedSessionId() != null;
        if (comesFromBrowser
                && request.getMethod().equals("POST")
                && !opensPage(request)
                && request.getSession(false) == null) {
            response.setStatus(HttpServletResponse.SC_UNAUTHORIZED);
            return;
        }
        chain.doFilter(request, response);
    }
}
