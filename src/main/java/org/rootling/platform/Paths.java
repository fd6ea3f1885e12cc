package org.rootling.platform;

import org.springframework.web.context.request.RequestAttributes;
import org.springframework.web.context.request.RequestContextHolder;

/** Paths inside the current vineyard. */
public final class Paths {

    /** Request attribute with the prefix, for instance {@code /v/quillow-bank}. */
    public static final String PREFIX = "rootling.prefix";

    private Paths() {}

    /** The path of a page of the current request's vineyard; {@code rest} starts with a slash. */
    public static String to(String rest) {
        Object prefix =
                RequestContextHolder.currentRequestAttributes().getAttribute(PREFIX, RequestAttributes.SCOPE_REQUEST);
        if (prefix == null) {
            throw new IllegalStateException("this request is not inside a vineyard");
        }
        return prefix + rest;
    }
}
