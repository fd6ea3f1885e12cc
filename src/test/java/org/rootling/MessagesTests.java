package org.rootling;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

/** Every text stands once in a message file; what a page names exists, what exists is used. */
class MessagesTests {

    private static final Path RESOURCES = Path.of("src/main/resources");
    private static final Pattern USED = Pattern.compile("#\\{([a-z0-9][a-zA-Z0-9.-]*)");
    private static final Pattern BUILT = Pattern.compile("#\\{\\$\\{'([a-z0-9.-]+)' \\+");
    private static final Pattern IN_JAVA = Pattern.compile("\"(?:\\{)?([a-z]+(?:\\.[a-zA-Z0-9-]+)+)(?:\\})?\\.?\"");
    private static final Pattern LITERAL = Pattern.compile(
            "<(p|h1|h2|h3|li|td|th|button|a|label|span|caption|summary|dt|dd)(\\s[^>]*)?>([^<]*[A-Za-z]{2}[^<]*)</");

    @Test
    void everyKeyThatATemplateNamesExists() throws IOException {
        Map<String, String> keys = keys("");
        TreeSet<String> missing = new TreeSet<>();
        for (Path template : templates()) {
            Matcher used = USED.matcher(Files.readString(template));
            while (used.find()) {
                if (!keys.containsKey(used.group(1))) {
                    missing.add(template.getFileName() + ": " + used.group(1));
                }
            }
        }
        assertThat(missing).isEmpty();
    }

    @Test
    void everyKeyIsUsedSomewhere() throws IOException {
        TreeSet<String> used = new TreeSet<>();
        TreeSet<String> prefixes = new TreeSet<>();
        for (Path template : templates()) {
            String text = Files.readString(template);
            Matcher plain = USED.matcher(text);
            while (plain.find()) {
                used.add(plain.group(1));
            }
            Matcher built = BUILT.matcher(text);
            while (built.find()) {
                prefixes.add(built.group(1));
            }
        }
        try (Stream<Path> sources = Files.walk(Path.of("src/main/java"))) {
            for (Path source :
                    sources.filter(p -> p.toString().endsWith(".java")).toList()) {
                Matcher named = IN_JAVA.matcher(Files.readString(source));
                while (named.find()) {
                    used.add(named.group(1));
                    prefixes.add(named.group(1) + ".");
                    prefixes.add(named.group(1) + "-");
                }
            }
        }
        TreeSet<String> unused = new TreeSet<>();
        for (String key : keys("").keySet()) {
            boolean isUsed = used.contains(key)
                    || key.startsWith("typeMismatch")
                    || key.startsWith("jakarta.validation.")
                    || key.startsWith("help.")
                    || key.startsWith("reference.")
                    || prefixes.stream().anyMatch(key::startsWith);
            if (!isUsed) {
                unused.add(key);
            }
        }
        assertThat(unused).isEmpty();
    }

    @Test
    void noKeyStandsTwice() throws IOException {
        List<String> twice = new ArrayList<>();
        Map<String, String> seen = new TreeMap<>();
        try (Stream<Path> files = Files.list(RESOURCES.resolve("messages"))) {
            for (Path file : files.filter(f -> !f.toString().matches(".*_(de|fr)\\.properties"))
                    .sorted()
                    .toList()) {
                for (String line : Files.readAllLines(file)) {
                    String key = line.replaceFirst("=.*", "").strip();
                    if (!key.isEmpty() && !key.startsWith("#") && line.contains("=")) {
                        String before = seen.put(key, file.getFileName().toString());
                        if (before != null) {
                            twice.add(key + " in " + before + " and " + file.getFileName());
                        }
                    }
                }
            }
        }
        assertThat(twice).isEmpty();
    }

    /** Placeholder text inside an element that Thymeleaf replaces is fine; text without th:text around it is not. */
    @Test
    void noTemplateHoldsTextOfItsOwn() throws IOException {
        List<String> literal = new ArrayList<>();
        for (Path template : templates()) {
            Matcher element = LITERAL.matcher(Files.readString(template));
            while (element.find()) {
                String attributes = element.group(2) == null ? "" : element.group(2);
                if (!attributes.contains("th:text") && !attributes.contains("th:utext")) {
                    literal.add(template.getFileName() + ": " + element.group());
                }
            }
        }
        assertThat(literal).isEmpty();
    }

    private static Map<String, String> keys(String suffix) throws IOException {
        Map<String, String> keys = new TreeMap<>();
        try (Stream<Path> files = Files.list(RESOURCES.resolve("messages"))) {
            files.filter(f -> f.toString().endsWith(suffix + ".properties"))
                    .filter(f -> !suffix.isEmpty() || !f.toString().matches(".*_(de|fr)\\.properties"))
                    .forEach(file -> {
                        try {
                            java.util.Properties read = new java.util.Properties();
                            read.load(Files.newBufferedReader(file));
                            read.stringPropertyNames().forEach(k -> keys.put(k, read.getProperty(k)));
                        } catch (IOException failure) {
                            throw new UncheckedIOException(failure);
                        }
                    });
        }
        return keys;
    }

    private static List<Path> templates() throws IOException {
        try (Stream<Path> files = Files.walk(RESOURCES.resolve("templates"))) {
            return files.filter(f -> f.toString().endsWith(".html")).toList();
        }
    }
}
