package org.rootling.support;

import org.rootling.people.Role;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Signs a test's own request as someone of a vineyard. */
public final class TestRequests {

    private TestRequests() {}

    public static RequestPostProcessor as(TestVineyard vineyard, Role role) {
        return vineyard.signedIn(role);
    }
}
