package org.rootling.support;

import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.multipart;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import java.nio.charset.StandardCharsets;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.MockMvc;
import org.springframework.test.web.servlet.MvcResult;
import org.springframework.test.web.servlet.request.MockHttpServletRequestBuilder;
import org.springframework.test.web.servlet.request.RequestPostProcessor;

/** Opens pages and sends forms as one person; paths are inside the vineyard, as in {@code /lots}. */
public final class TestBrowser {

    /** What came back. */
    public record Answer(int status, String location, Document page, String body, MvcResult raw) {}

    private final MockMvc mvc;
    private final String prefix;
    private final RequestPostProcessor person;

    TestBrowser(MockMvc mvc, String prefix, RequestPostProcessor person) {
        this.mvc = mvc;
        this.prefix = prefix;
        this.person = person;
    }

    /** Opens a page. */
    public Answer open(String path) {
        return perform(get(java.net.URI.create(prefix + path)));
    }

    /** Sends a form: name, value, name, value … */
    public Answer send(String path, String... fields) {
        MockHttpServletRequestBuilder request =
                post(java.net.URI.create(prefix + path)).with(csrf());
        for (int i = 0; i < fields.length; i += 2) {
            request.param(fields[i], fields[i + 1]);
        }
        return perform(request);
    }

    /** Sends JSON as a page's script does. */
    public Answer sendJson(String path, String json) {
        return perform(post(java.net.URI.create(prefix + path))
                .with(csrf())
                .contentType(org.springframework.http.MediaType.APPLICATION_JSON)
                .accept(org.springframework.http.MediaType.APPLICATION_JSON)
                .content(json));
    }

    /** Sends a form that must be taken, and opens the page it leads to. */
    public Answer sendAndFollow(String path, String... fields) {
        Answer answer = send(path, fields);
        if (answer.status() != 302 && answer.status() != 303) {
            throw new AssertionError("expected a redirect from " + path + " but got " + answer.status() + ": "
                    + answer.page().select(".error, .alert").text());
        }
        return follow(answer);
    }

    /** Goes on through redirects, past the page of work in the background that is still running. */
    public Answer follow(Answer answer) {
        Answer now = answer;
        String at = answer.location();
        for (int tries = 0; at != null && tries < 60; tries++) {
            now = perform(get(java.net.URI.create(at)));
            boolean running = !now.page().select("[data-state=RUNNING]").isEmpty();
            if (!running && now.location() == null) {
                return now;
            }
            at = running ? at : now.location();
        }
        return now;
    }

    /** Sends a form with a file. */
    public Answer upload(String path, String field, String fileName, byte[] content, String... fields) {
        var request = multipart(java.net.URI.create(prefix + path))
                .file(new MockMultipartFile(field, fileName, "application/octet-stream", content));
        for (int i = 0; i < fields.length; i += 2) {
            request.param(fields[i], fields[i + 1]);
        }
        try {
            return answer(mvc.perform(request.with(csrf()).with(person)).andReturn());
        } catch (Exception failure) {
            throw new AssertionError(failure);
        }
    }

    private Answer perform(MockHttpServletRequestBuilder request) {
        try {
            return answer(mvc.perform(request.with(person)).andReturn());
        } catch (Exception failure) {
            throw new AssertionError(failure);
        }
    }

    private static Answer answer(MvcResult result) throws Exception {
        String body = result.getResponse().getContentAsString(StandardCharsets.UTF_8);
        return new Answer(
                result.getResponse().getStatus(),
                result.getResponse().getRedirectedUrl(),
                Jsoup.parse(body),
                body,
                result);
    }
}
