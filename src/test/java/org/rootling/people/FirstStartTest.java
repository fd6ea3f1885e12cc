package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.redirectedUrl;
import static org.springframework.test.web.servlet.result.MockMvcResultMatchers.status;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.MethodOrderer;
import org.junit.jupiter.api.Order;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestMethodOrder;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.rootling.support.AccessRules;
import org.rootling.support.BrowserTest;
import org.rootling.support.Spoken;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.boot.webmvc.test.autoconfigure.AutoConfigureMockMvc;
import org.springframework.boot.webmvc.test.autoconfigure.MockMvcPrint;
import org.springframework.test.annotation.DirtiesContext;
import org.springframework.test.context.ContextConfiguration;
import org.springframework.test.context.DynamicPropertyRegistry;
import org.springframework.test.context.DynamicPropertySource;
import org.springframework.test.web.servlet.MockMvc;

/** An empty Rootling with its own embedded database: the first visitor sets it up. */
@ContextConfiguration(inheritInitializers = false)
@AutoConfigureMockMvc(print = MockMvcPrint.NONE)
@TestMethodOrder(MethodOrderer.OrderAnnotation.class)
@DirtiesContext
class FirstStartTest extends BrowserTest {

    @Autowired
    MockMvc mvc;

    @DynamicPropertySource
    static void home(DynamicPropertyRegistry registry) throws IOException {
        Path home = Files.createTempDirectory("rootling-first");
        registry.add("rootling.home", home::toString);
    }

    @Test
    @Order(1)
    void visitorsAreLedToTheSetUp() throws Exception {
        mvc.perform(get("/sign-in")).andExpect(redirectedUrl("/setup"));
        mvc.perform(get("/setup")).andExpect(status().isOk());
    }

    @ParameterizedTest
    @ValueSource(strings = {"en-GB", "de-DE", "fr-FR"})
    @Order(1)
    void theSetUpIsForEverybodyInTheLanguageOfTheirBrowser(String locale) {
        String language = locale.substring(0, 2);
        Spoken spoken = new Spoken(language, "Rootling");
        AccessRules rules = new AccessRules();
        List<String> wrong = new ArrayList<>();
        try (BrowserContext nobody = context(390, locale)) {
            Page page = nobody.newPage();
            page.navigate("/");
            page.waitForURL("**/setup");
            for (int width : new int[] {390, 1280}) {
                page.setViewportSize(width, 844);
                picture(page, language + "-setup-" + width);
            }
            wrong.addAll(spoken.otherwise(page, "setup"));
            wrong.addAll(rules.look(page, language + " setup"));
            page.evaluate("document.querySelector('main form').noValidate = true");
            page.click("main form button");
            assertThat(loaded(page).locator(".error").count()).isPositive();
            picture(page, language + "-setup-refused");
            wrong.addAll(spoken.otherwise(page, "setup refused"));
            wrong.addAll(rules.look(page, language + " setup refused"));
        }
        assertThat(wrong).isEmpty();
    }

    @Test
    @Order(2)
    void withoutTheRightCodeNothingIsMadeAndWhatWasTypedStays() throws Exception {
        var page = Jsoup.parse(setUp("guess", "a long enough password"));
        assertThat(page.select("#code-error").text()).contains("not the code");
        assertThat(page.select("#vineyard").val()).isEqualTo("Sunny Bank <b>");
        assertThat(page.select("#password").val()).isEmpty();
    }

    @Test
    @Order(3)
    void aWeakPasswordIsRefusedBesideItsField() throws Exception {
        assertThat(Jsoup.parse(setUp("test-code", "short"))
                        .select("#password-error")
                        .text())
                .contains("12");
        assertThat(Jsoup.parse(setUp("test-code", "password1234"))
                        .select("#password-error")
                        .text())
                .contains("easy to guess");
    }

    @Test
    @Order(4)
    void theRightCodeMakesVineyardAndOwnerOnce() throws Exception {
        mvc.perform(post("/setup")
                        .with(csrf())
                        .param("code", "test-code")
                        .param("vineyard", "Sunny Bank")
                        .param("zone", "Pacific/Auckland")
                        .param("name", "Nell")
                        .param("email", "Nell@Example.org")
                        .param("password", "a long enough password"))
                .andExpect(redirectedUrl("/sign-in?ready"));
        mvc.perform(get("/setup")).andExpect(redirectedUrl("/sign-in"));
        mvc.perform(post("/setup").with(csrf()).param("code", "test-code")).andExpect(redirectedUrl("/sign-in"));
    }

    @Test
    @Order(5)
    void theOwnerSignsInAndAStrangerIsSlowedDown() throws Exception {
        mvc.perform(post("/sign-in")
                        .with(csrf())
                        .param("email", "nell@example.org")
                        .param("password", "a long enough password"))
                .andExpect(redirectedUrl("/"));
        for (int i = 0; i < 5; i++) {
            mvc.perform(post("/sign-in")
                            .with(csrf())
                            .param("email", "nell@example.org")
                            .param("password", "guess " + i))
                    .andExpect(redirectedUrl("/sign-in?failed"));
        }
        mvc.perform(post("/sign-in")
                        .with(csrf())
                        .param("email", "nell@example.org")
                        .param("password", "a long enough password"))
                .andExpect(redirectedUrl("/sign-in?wait"));
    }

    @Test
    @Order(6)
    void healthIsOpenAndTheRestOfTheActuatorIsNot() throws Exception {
        mvc.perform(get("/actuator/health")).andExpect(status().isOk());
        for (String path : new String[] {"/actuator", "/actuator/env", "/actuator/beans", "/actuator/metrics"}) {
            int answered = mvc.perform(get(path)).andReturn().getResponse().getStatus();
            assertThat(answered).as(path).isIn(302, 401, 403, 404);
        }
    }

    private String setUp(String code, String password) throws Exception {
        return mvc.perform(post("/setup")
                        .with(csrf())
                        .param("code", code)
                        .param("vineyard", "Sunny Bank <b>")
                        .param("zone", "Pacific/Auckland")
                        .param("name", "Nell")
                        .param("email", "nell@example.org")
                        .param("password", password))
                .andExpect(status().isOk())
                .andReturn()
                .getResponse()
                .getContentAsString();
    }
}
