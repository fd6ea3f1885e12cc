package org.rootling.platform.web;

import java.io.IOException;
import java.io.InputStream;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.TreeSet;
import org.rootling.platform.Listing;
import org.springframework.core.io.ClassPathResource;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** What this program is made of and under which licences, out of the bill of materials in the jar (CycloneDX). */
@Controller
class Licences {

    private static final String BILL = "META-INF/sbom/application.cdx.json";

    /** One library; the licence as its maker states it. */
    record Part(String name, String version, String licence) {}

    private final JsonMapper json;

    Licences(JsonMapper json) {
        this.json = json;
    }

    @GetMapping("/licences")
    String show(Model model) throws IOException {
        ClassPathResource bill = new ClassPathResource(BILL);
        List<Part> parts = List.of();
        if (bill.exists()) {
            try (InputStream in = bill.getInputStream()) {
                parts = parts(json.readTree(in));
            }
        }
        model.addAttribute(
                "parts",
                Listing.of("parts", parts)
                        .by("platform.licences.part", part -> part.name())
                        .by("platform.licences.version", part -> part.version())
                        .by("platform.licences.licence", part -> part.licence()));
        return "platform/licences";
    }

    static List<Part> parts(JsonNode bill) {
        List<Part> parts = new ArrayList<>();
        for (JsonNode component : bill.path("components")) {
            TreeSet<String> licences = new TreeSet<>();
            for (JsonNode each : component.path("licenses")) {
                String id = each.path("license").path("id").asString("");
                String name = each.path("license").path("name").asString("");
                String expression = each.path("expression").asString("");
                licences.add(!id.isEmpty() ? id : !expression.isEmpty() ? expression : name);
            }
            licences.remove("");
            String group = component.path("group").asString("");
            parts.add(new Part(
                    (group.isEmpty() ? "" : group + " : ")
                            + component.path("name").asString(""),
                    component.path("version").asString(""),
                    licences.isEmpty() ? "?" : String.join(" / ", licences)));
        }
        parts.sort(Comparator.comparing(Part::name));
        return parts;
    }
}
