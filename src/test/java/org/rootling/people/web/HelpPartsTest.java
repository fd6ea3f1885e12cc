package org.rootling.people.web;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.jsoup.Jsoup;
import org.junit.jupiter.api.Test;

/** Every page of a vineyard leads to its own part of the help. */
class HelpPartsTest {

    private static final Path TEMPLATES = Path.of("src/main/resources/templates");

    @Test
    void everyPartThatAPageLeadsToIsThere() throws IOException {
        for (String help : HelpParts.all()) {
            String[] page = help.split("#");
            Path file = TEMPLATES.resolve("help/" + page[0] + ".html");
            assertThat(file).exists();
            if (page.length == 2 && !page[0].equals("glossary")) {
                assertThat(Jsoup.parse(Files.readString(file)).getElementById(page[1]))
                        .as(help)
                        .isNotNull();
            }
        }
        assertThat(Files.readString(TEMPLATES.resolve("help/glossary.html"))).contains("'passport'");
    }

    /** The pages that others link to, from the templates themselves. */
    @Test
    void everyLinkedPageHasItsPart() throws IOException {
        Pattern link = Pattern.compile("th:href=\"@\\{\\|\\$\\{v\\}(/[^|\"]*)\\|");
        TreeSet<String> without = new TreeSet<>();
        int pages = 0;
        try (Stream<Path> templates = Files.walk(TEMPLATES)) {
            for (Path template :
                    templates.filter(p -> p.toString().endsWith(".html")).toList()) {
                Matcher found = link.matcher(Files.readString(template));
                while (found.find()) {
                    String path = found.group(1).replaceAll("\\$\\{[^}]*}", "X");
                    boolean file = path.matches(
                            ".*\\.(csv|xlsx|pdf|zip|gpx|geojson|json).*|/pictures/.*|/help.*|.*\\?.*|/X");
                    if (!file) {
                        pages++;
                        if (HelpParts.of(path) == null) {
                            without.add(path);
                        }
                    }
                }
            }
        }
        assertThat(without).isEmpty();
        assertThat(pages).isGreaterThan(150);
    }
}
