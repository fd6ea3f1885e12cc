package org.rootling.people.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.Objects;

/** Passwords exactly as they were typed; form fields are otherwise trimmed. */
final class Typed {

    private Typed() {}

    static String password(HttpServletRequest request, String field) {
        return Objects.requireNonNullElse(request.getParameter(field), "");
    }
}
