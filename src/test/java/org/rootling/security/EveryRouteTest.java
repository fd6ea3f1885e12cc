package org.rootling.security;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.authentication;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.request;

import java.net.URI;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.rootling.people.Guests;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.domain.TestPeople;
import org.rootling.support.AppTest;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.annotation.Qualifier;
import org.springframework.http.HttpMethod;
import org.springframework.security.authentication.UsernamePasswordAuthenticationToken;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.request.RequestPostProcessor;
import org.springframework.web.bind.annotation.RequestMethod;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.mvc.method.RequestMappingInfo;
import org.springframework.web.servlet.mvc.method.annotation.RequestMappingHandlerMapping;

/** Every route the framework knows, tried as every role, as nobody, and as the owner of another vineyard. */
@AppTest
class EveryRouteTest {

    /** Routes outside a vineyard that anyone, or anyone signed in, may use; each for a reason. */
    private static final Set<String> OUTSIDE = Set.of(
            "/",
            "/sign-in",
            "/setup",
            "/vineyards",
            "/account",
            "/account/password",
            "/account/safety",
            "/account/safety/about-me.json",
            "/account/safety/delete",
            "/account/safety/keep",
            "/account/safety/second-factor/begin",
            "/account/safety/second-factor/codes",
            "/account/safety/second-factor/confirm",
            "/account/safety/second-factor/end",
            "/account/safety/sessions/end",
            "/sign-in/code", // doors and one's own account
            "/join/{secret}",
            "/join/{secret}/as-me", // the secret is the right
            "/day/{secret}", // the same, for somebody who comes for a day
            "/forgotten", // asks for a link, tells nothing
            "/way-in/{secret}", // the secret is the right
            "/day-over", // says that it has run out
            "/licences", // what the program is made of
            "/error", // the error page
            "/v3/api-docs",
            "/v3/api-docs.yaml", // the API's description holds no data
            "/manifest.webmanifest",
            "/service-worker.js",
            "/offline", // the installable shell, without data
            "/calendar/{secret}.ics"); // the secret is the right

    record Route(RequestMethod method, String pattern, HandlerMethod handler) {}

    @Autowired
    @Qualifier("requestMappingHandlerMapping")
    RequestMappingHandlerMapping mapping;

    @Autowired
    TestVineyards vineyards;

    @Autowired
    MockMvc mvc;

    @Autowired
    Guests guests;

    @Test
    void everyRouteIsInsideAVineyardWithItsLeastRoleOrIsListedHere() {
        List<String> loose = new ArrayList<>();
        for (Route route : routes()) {
            boolean inside = route.pattern().startsWith("/v/{vineyard}")
                    || route.pattern().startsWith("/api/v1/");
            boolean marked = route.handler().hasMethodAnnotation(Needs.class);
            if (inside ? !marked : !OUTSIDE.contains(route.pattern())) {
                loose.add(route.method() + " " + route.pattern());
            }
        }
        assertThat(loose).isEmpty();
    }

    @Test
    void aReaderChangesNothing() {
        Set<String> own = Set.of(
                "/v/{vineyard}/tokens",
                "/v/{vineyard}/tokens/{id}/revoke",
                "/v/{vineyard}/calendar/address",
                "/v/{vineyard}/calendar/end", // one's own secrets
                "/v/{vineyard}/review/report",
                "/v/{vineyard}/labels",
                "/v/{vineyard}/blocks/{code}/stake-out.pdf",
                "/v/{vineyard}/jobs/{id}/cancel"); // a file made for oneself, and no more of it
        List<String> open = new ArrayList<>();
        for (Route route : routes()) {
            Needs needs = route.handler().getMethodAnnotation(Needs.class);
            boolean preview =
                    route.pattern().matches("/api/v1/[a-z-]*(previews|curves)") || own.contains(route.pattern());
            if (needs != null && route.method() != RequestMethod.GET && needs.value() == Role.READER && !preview) {
                open.add(route.method() + " " + route.pattern());
            }
        }
        assertThat(open).isEmpty();
    }

    @Test
    void pagesAreRefusedToNobodyToStrangersAndToLesserRoles() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        TestVineyard other = vineyards.fresh();
        Map<String, String> wrong = new TreeMap<>();
        for (Route route : routes()) {
            Needs needs = route.handler().getMethodAnnotation(Needs.class);
            if (needs == null || !route.pattern().startsWith("/v/{vineyard}")) {
                continue;
            }
            String path = fill(route.pattern(), vineyard.slug());
            HttpMethod method = route.method().asHttpMethod();
            int nobody = mvc.perform(request(method, URI.create(path)).with(csrf()))
                    .andReturn()
                    .getResponse()
                    .getStatus();
            note(wrong, nobody == 302 || nobody == 401, route + " nobody " + nobody);
            int stranger = mvc.perform(
                            request(method, URI.create(path)).with(csrf()).with(TestRequests.as(other, Role.OWNER)))
                    .andReturn()
                    .getResponse()
                    .getStatus();
            note(wrong, stranger == 404, route + " stranger " + stranger);
            for (Role role : Role.values()) {
                if (!role.includes(needs.value())) {
                    int lesser = mvc.perform(request(method, URI.create(path))
                                    .with(csrf())
                                    .with(TestRequests.as(vineyard, role)))
                            .andReturn()
                            .getResponse()
                            .getStatus();
                    note(wrong, lesser == 403, route + " " + role + " " + lesser);
                }
            }
            if (method == HttpMethod.POST) {
                int forged = mvc.perform(request(method, URI.create(path)).with(TestRequests.as(vineyard, Role.OWNER)))
                        .andReturn()
                        .getResponse()
                        .getStatus();
                note(wrong, forged == 403, route + " without CSRF token " + forged);
            }
        }
        assertThat(wrong).isEmpty();
    }

    /** Who comes for a day by a link is a helper of one vineyard, with nothing that outlasts the day. */
    @Test
    void aGuestIsRefusedWhatAHelperIsAndAllSecretsAndEveryOtherVineyard() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        TestVineyard other = vineyards.fresh();
        UUID account = vineyard.inside(() -> guests.link(null, "Nell", 1)).account();
        RequestPostProcessor guest = authentication(
                UsernamePasswordAuthenticationToken.authenticated(TestPeople.guest(account, "Nell"), null, List.of()));
        Map<String, String> wrong = new TreeMap<>();
        for (Route route : routes()) {
            Needs needs = route.handler().getMethodAnnotation(Needs.class);
            boolean inside = route.pattern().startsWith("/v/{vineyard}");
            boolean secrets = route.pattern().matches("/v/\\{vineyard}/(tokens|calendar)(/.*)?")
                    || route.pattern().startsWith("/account")
                    || route.pattern().equals("/vineyards");
            if (secrets || (inside && needs != null && !Role.HELPER.includes(needs.value()))) {
                int refused = status(route, vineyard.slug(), guest);
                note(wrong, refused == 403, route + " guest " + refused);
            }
            if (inside && !secrets && route.method() == RequestMethod.GET) {
                int stranger = status(route, other.slug(), guest);
                note(wrong, stranger == 404, route + " guest of another vineyard " + stranger);
            }
        }
        assertThat(wrong).isEmpty();
    }

    private int status(Route route, String slug, RequestPostProcessor who) throws Exception {
        return mvc.perform(request(route.method().asHttpMethod(), URI.create(fill(route.pattern(), slug)))
                        .with(csrf())
                        .with(who))
                .andReturn()
                .getResponse()
                .getStatus();
    }

    @Test
    void theApiIsRefusedWithoutATokenAndToLesserRoles() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Map<String, String> wrong = new TreeMap<>();
        for (Route route : routes()) {
            Needs needs = route.handler().getMethodAnnotation(Needs.class);
            if (needs == null || !route.pattern().startsWith("/api/")) {
                continue;
            }
            String path = fill(route.pattern(), vineyard.slug());
            HttpMethod method = route.method().asHttpMethod();
            int nobody = mvc.perform(request(method, URI.create(path)))
                    .andReturn()
                    .getResponse()
                    .getStatus();
            note(wrong, nobody == 401, route + " nobody " + nobody);
            int signedIn = mvc.perform(request(method, URI.create(path)).header("Authorization", "Bearer rtl_forged"))
                    .andReturn()
                    .getResponse()
                    .getStatus();
            note(wrong, signedIn == 401, route + " forged " + signedIn);
            for (Role role : Role.values()) {
                if (!role.includes(needs.value())) {
                    int lesser = mvc.perform(request(method, URI.create(path))
                                    .header("Authorization", "Bearer " + vineyard.token(role)))
                            .andReturn()
                            .getResponse()
                            .getStatus();
                    note(wrong, lesser == 403, route + " " + role + " " + lesser);
                }
            }
        }
        assertThat(wrong).isEmpty();
    }

    /** With ids that exist nowhere, no page falls over. */
    @Test
    void noPageAnswersWithAServerErrorToIdsThatAreNotThere() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Map<String, String> wrong = new TreeMap<>();
        for (Route route : routes()) {
            if (route.pattern().startsWith("/v/{vineyard}") && route.method() == RequestMethod.GET) {
                for (String id : new String[] {"00000000-0000-7000-8000-000000000000", "no'thing", "1"}) {
                    String path = fill(route.pattern(), vineyard.slug())
                            .replace("00000000-0000-7000-8000-000000000000", id.replace("'", "%27"));
                    int status = mvc.perform(request(HttpMethod.GET, URI.create(path))
                                    .with(TestRequests.as(vineyard, Role.OWNER)))
                            .andReturn()
                            .getResponse()
                            .getStatus();
                    note(wrong, status < 500, route + " " + id + " " + status);
                }
            }
        }
        assertThat(wrong).isEmpty();
    }

    private static void note(Map<String, String> wrong, boolean right, String what) {
        if (!right) {
            wrong.put(what.replaceAll("handler=.*?\\]", ""), "");
        }
    }

    private static String fill(String pattern, String slug) {
        return pattern.replace("{vineyard}", slug).replaceAll("\\{[^}]+}", "00000000-0000-7000-8000-000000000000");
    }

    private List<Route> routes() {
        List<Route> routes = new ArrayList<>();
        for (Map.Entry<RequestMappingInfo, HandlerMethod> entry :
                mapping.getHandlerMethods().entrySet()) {
            Set<RequestMethod> methods = entry.getKey().getMethodsCondition().getMethods();
            for (String pattern : entry.getKey().getPatternValues()) {
                for (RequestMethod method : methods.isEmpty() ? Set.of(RequestMethod.GET) : methods) {
                    routes.add(new Route(method, pattern, entry.getValue()));
                }
            }
        }
        return routes;
    }
}
