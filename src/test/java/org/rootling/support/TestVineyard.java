package org.rootling.support;

import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Supplier;
import org.rootling.people.Role;
import org.rootling.platform.Tenancy;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** A vineyard made for a test, and its four people. */
public record TestVineyard(UUID id, String slug, Map<Role, UUID> accounts, Map<Role, String> tokens, MockMvc mvc) {

    /** Drives pages as one of its people. */
    public TestBrowser as(Role role) {
        return new TestBrowser(mvc, "/v/" + slug, signedIn(role));
    }

    /** The account of one of its people. */
    public UUID account(Role role) {
        return accounts.get(role);
    }

    /** The API token of one of its people. */
    public String token(Role role) {
        return tokens.get(role);
    }

    public String email(Role role) {
        return TestVineyards.email(slug, role);
    }

    /** From now on one of its people reads these units, in this language. */
    public void reads(Role role, String units, String locale) {
        try {
            mvc.perform(post("/account")
                            .param("name", role.name())
                            .param("locale", locale)
                            .param("units", units)
                            .with(csrf())
                            .with(signedIn(role)))
                    .andExpect(status().is(302));
        } catch (Exception failure) {
            throw new AssertionError(failure);
        }
    }

    /** Calls services directly, as its owner. */
    public <T> T inside(Supplier<T> work) {
        return Tenancy.as(id, accounts.get(Role.OWNER), work);
    }

    /** Calls services directly, as its owner. */
    public void run(Runnable work) {
        Tenancy.run(id, accounts.get(Role.OWNER), work);
    }

    RequestPostProcessor signedIn(Role role) {
        return authentication(UsernamePasswordAuthenticationToken.authenticated(
                TestVineyards.principal(accounts.get(role), slug, role), null, List.of()));
    }
}
