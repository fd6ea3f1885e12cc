package org.rootling.platform.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.HexFormat;
import java.util.Map;
import java.util.concurrent.ThreadLocalRandom;
import org.slf4j.MDC;
import org.springframework.boot.web.error.ErrorAttributeOptions;
import org.springframework.boot.webmvc.error.DefaultErrorAttributes;
import org.springframework.stereotype.Component;
import org.springframework.web.context.request.RequestAttributes;
import org.springframework.web.context.request.WebRequest;

/** The number of a request: short enough to be read out on the telephone. */
final class RequestNumber {

    static final String KEY = "request";
    private static final String ATTRIBUTE = "rootling.request-number";

    private RequestNumber() {}

    /** Gives the request its number, or takes up the one it has. */
    static String begin(HttpServletRequest request) {
        String number = request.getAttribute(ATTRIBUTE) instanceof String known
                ? known
                : HexFormat.of().toHexDigits(ThreadLocalRandom.current().nextInt());
        request.setAttribute(ATTRIBUTE, number);
        MDC.put(KEY, number);
        return number;
    }

    /** The number of the request that this thread works for. */
    static String current() {
        String number = MDC.get(KEY);
        return number == null ? "-" : number;
    }

    /** Puts the number on the page of a fault that no controller saw. */
    @Component
    static class OnErrorPages extends DefaultErrorAttributes {

        @Override
        public Map<String, Object> getErrorAttributes(WebRequest request, ErrorAttributeOptions options) {
            Map<String, Object> attributes = super.getErrorAttributes(request, options);
            Object number = request.getAttribute(ATTRIBUTE, RequestAttributes.SCOPE_REQUEST);
            if (number != null) {
                attributes.put("number", number);
            }
            return attributes;
        }
    }
}
