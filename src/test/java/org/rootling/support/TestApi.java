package org.rootling.support;

import java.nio.charset.StandardCharsets;
import org.rootling.people.Role;
import org.springframework.http.MediaType;
import org.springframework.test.web.servlet.MvcResult;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Calls the API with a token. */
public final class TestApi {

    /** What came back; {@code json} is missing where the body is not JSON. */
    public record Answer(int status, String contentType, JsonNode json, String body) {}

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private TestApi() {}

    public static Answer post(TestVineyard vineyard, Role role, String path, String body) {
        return call(vineyard, role, path, body);
    }

    public static Answer get(TestVineyard vineyard, Role role, String path) {
        return call(vineyard, role, path, null);
    }

    private static Answer call(TestVineyard vineyard, Role role, String path, String body) {
        try {
            var request = body == null
                    ? org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get(java.net.URI.create(path))
                    : org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post(
                                    java.net.URI.create(path))
                            .contentType(MediaType.APPLICATION_JSON)
                            .content(body);
            MvcResult result = vineyard.mvc()
                    .perform(request.header("Authorization", "Bearer " + vineyard.token(role)))
                    .andReturn();
            String text = result.getResponse().getContentAsString(StandardCharsets.UTF_8);
            String type = String.valueOf(result.getResponse().getContentType());
            JsonNode json = type.contains("json") ? JSON.readTree(text) : JSON.missingNode();
            return new Answer(result.getResponse().getStatus(), type, json, text);
        } catch (Exception failure) {
            throw new AssertionError(failure);
        }
    }
}
