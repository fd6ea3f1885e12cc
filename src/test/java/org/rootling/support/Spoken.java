package org.rootling.support;

import com.microsoft.playwright.Page;
import java.io.IOException;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Properties;
import java.util.Set;
import java.util.TreeSet;
import java.util.regex.Pattern;
import java.util.stream.Stream;

/**
 * Whether all that a page says is said in one language: every text of it, and every name that only a screen reader tells,
 * stands in the message files of that language.
 */
public final class Spoken {

    private static final Path MESSAGES = Path.of("src/main/resources/messages");

    /** With fewer letters of its own a message would fit whatever is put into it. */
    private static final int LEAST_LETTERS = 3;

    /** All texts and names; not what is no sentence of ours: addresses and codes, days, names of time zones. */
    private static final String TEXTS = """
            () => {
              const apart = 'script, style, code, time, svg, datalist, textarea, #zone option:not([value=""])';
              const said = [document.title.replace(/ · Rootling$/, '')];
              const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
              while (walk.nextNode()) {
                const text = walk.currentNode;
                if (!text.parentElement.closest(apart)) said.push(text.data);
              }
              for (const e of document.body.querySelectorAll('*')) {
                for (const name of ['aria-label', 'title', 'alt', 'placeholder', 'data-label', 'data-ask']) {
                  if (e.hasAttribute(name)) said.push(e.getAttribute(name));
                }
              }
              return said.map(text => text.replace(/\\s+/g, ' ').trim());
            }""";

    private final String language;
    private final Set<String> known = new TreeSet<>();
    private final List<Pattern> patterns = new ArrayList<>();

    /** The messages of "en", "de" or "fr", and names that are the same in all. */
    public Spoken(String language, String... names) {
        this.language = language;
        known.addAll(List.of(names));
        try (Stream<Path> files = Files.list(MESSAGES)) {
            for (Path file : files.toList()) {
                String name = file.getFileName().toString();
                if (language.equals("en") ? !name.contains("_") : name.endsWith("_" + language + ".properties")) {
                    read(Files.newBufferedReader(file, StandardCharsets.UTF_8));
                }
            }
        } catch (IOException unreadable) {
            throw new UncheckedIOException(unreadable);
        }
    }

    private void read(Reader file) throws IOException {
        Properties messages = new Properties();
        try (file) {
            messages.load(file);
        }
        for (String key : messages.stringPropertyNames()) {
            String message = messages.getProperty(key)
                    .replace("'{", "{")
                    .replace("}'", "}")
                    .replace("''", "'")
                    .replaceAll("[\\h\\v]+", " ");
            if (message.contains("{")) {
                pattern(message);
            } else {
                known.add(message.strip());
            }
        }
    }

    private void pattern(String message) {
        StringBuilder regex = new StringBuilder();
        StringBuilder literal = new StringBuilder();
        int letters = 0;
        int depth = 0;
        for (char c : message.toCharArray()) {
            if (c == '{' && depth++ == 0) {
                regex.append(Pattern.quote(literal.toString())).append(".*");
                literal.setLength(0);
            } else if (c == '}') {
                depth--;
            } else if (depth == 0) {
                literal.append(c);
                letters += Character.isLetter(c) ? 1 : 0;
            }
        }
        if (letters >= LEAST_LETTERS) {
            patterns.add(Pattern.compile(
                    regex.append(Pattern.quote(literal.toString())).toString(), Pattern.DOTALL));
        }
    }

    /** What the page that is open says in no words of this language, and whether it names another one. */
    public List<String> otherwise(Page page, String name) {
        List<String> wrong = new ArrayList<>();
        String named = page.getAttribute("html", "lang");
        if (!language.equals(named)) {
            wrong.add(name + " says it is in " + named + ", not " + language);
        }
        for (Object one : (List<?>) page.evaluate(TEXTS)) {
            String text = one.toString();
            if (text.chars().anyMatch(Character::isLetter)
                    && !known.contains(text)
                    && patterns.stream().noneMatch(p -> p.matcher(text).matches())) {
                wrong.add(name + " in " + language + ": " + text);
            }
        }
        return wrong;
    }
}
