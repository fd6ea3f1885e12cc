package org.rootling;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.text.MessageFormat;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.junit.jupiter.api.Test;
import org.rootling.platform.UnitChoice;
import org.rootling.platform.UnitMessages;

/** Every text exists in English, German and French, says the same values, and is really translated. */
class LanguagesTests {

    private static final Path MESSAGES = Path.of("src/main/resources/messages");
    private static final List<String> TRANSLATIONS = List.of("de", "fr");
    private static final Pattern QUOTED = Pattern.compile("''|'[{}][^']*'");
    private static final Pattern PLACES = Pattern.compile("\\{[^{}]*}");
    private static final Pattern WORD = Pattern.compile("\\p{L}{3,}");
    private static final String PHRASE = "reference.phrase.";
    private static final Pattern PLACE = Pattern.compile("\\{(\\d+)");

    @Test
    void everyKeyExistsInEveryLanguage() throws IOException {
        TreeSet<String> missing = new TreeSet<>();
        for (String language : TRANSLATIONS) {
            for (Map.Entry<String, Map<String, String>> module : modules("").entrySet()) {
                Map<String, String> there = module(module.getKey(), language);
                module.getValue().keySet().stream()
                        .filter(k -> !there.containsKey(k))
                        .forEach(k -> missing.add(language + " lacks " + k));
                there.keySet().stream()
                        .filter(k -> !module.getValue().containsKey(k))
                        .forEach(k -> missing.add("only " + language + " has " + k));
            }
        }
        assertThat(missing).isEmpty();
    }

    @Test
    void noKeyStandsTwiceInALanguage() throws IOException {
        List<String> twice = new ArrayList<>();
        for (String language : TRANSLATIONS) {
            TreeSet<String> seen = new TreeSet<>();
            for (String module : modules("").keySet()) {
                for (String line : lines(module, language)) {
                    if (!seen.add(line.replaceFirst("=.*", "").strip())) {
                        twice.add(language + " " + line);
                    }
                }
            }
        }
        assertThat(twice).isEmpty();
    }

    @Test
    void everyLanguageUsesTheSameValues() throws IOException {
        TreeSet<String> different = new TreeSet<>();
        Map<String, Map<String, String>> english = modules("");
        for (String language : TRANSLATIONS) {
            for (String module : english.keySet()) {
                module(module, language).forEach((key, text) -> {
                    String original = english.get(module).get(key);
                    if (original != null && !places(original).equals(places(text))) {
                        different.add(language + " " + key + ": " + text);
                    }
                });
            }
        }
        assertThat(different).isEmpty();
    }

    /** The messages are all read as MessageFormat: an apostrophe that is not doubled would vanish. */
    @Test
    void everyTextCanBeFormattedAndLosesNoApostrophe() throws IOException {
        TreeSet<String> wrong = new TreeSet<>();
        for (String language : List.of("", "de", "fr")) {
            for (String module : modules("").keySet()) {
                module(module, language).forEach((key, text) -> {
                    try {
                        new MessageFormat(text, Locale.forLanguageTag(language.isEmpty() ? "en" : language));
                    } catch (IllegalArgumentException broken) {
                        wrong.add(language + " " + key + ": " + broken.getMessage());
                    }
                    if (QUOTED.matcher(text).replaceAll("").contains("'")) {
                        wrong.add(language + " " + key + " loses an apostrophe: " + text);
                    }
                });
            }
        }
        assertThat(wrong).isEmpty();
    }

    /** Four words or more are never the same in two languages. */
    @Test
    void noSentenceIsLeftInEnglish() throws IOException {
        TreeSet<String> same = new TreeSet<>();
        Map<String, Map<String, String>> english = modules("");
        for (String language : TRANSLATIONS) {
            for (String module : english.keySet()) {
                module(module, language).forEach((key, text) -> {
                    if (WORD.matcher(PLACES.matcher(text).replaceAll(""))
                                            .results()
                                            .count()
                                    >= 4
                            && text.equals(english.get(module).get(key))) {
                        same.add(language + " " + key);
                    }
                });
            }
        }
        assertThat(same).isEmpty();
    }

    /** What ships as data is repeated as messages, so that it can be translated; the English must be the same. */
    @Test
    void shippedTextsAreRepeatedWordForWord() throws IOException {
        Map<String, String> expected = new TreeMap<>();
        for (CSVRecord item : reference("year-one-checklist")) {
            for (String part : List.of("name", "why", "how")) {
                expected.put("reference.care." + item.get("code") + "." + part, item.get(part));
            }
        }
        reference("growth-stages").forEach(s -> expected.put("reference.stage." + s.get("code"), s.get("description")));
        reference("cautions").forEach(c -> expected.put("reference.caution." + c.get("code"), c.get("caution")));
        Map<String, String> messages = new TreeMap<>();
        module("reference", "").forEach((key, text) -> {
            if (!key.startsWith(PHRASE)) {
                messages.put(key, shipped(text));
            }
        });
        assertThat(messages).isEqualTo(expected);
    }

    /** Notes and sources of the shipped lists, in our own words or with a word of ours beside the citation. */
    @Test
    void everyPhraseOfTheShippedListsIsRepeatedOnce() throws IOException {
        TreeSet<String> needed = new TreeSet<>(List.of("own"));
        reference("store-limits").forEach(l -> needed.add(l.get("source")));
        for (String list : List.of("rootstocks", "varieties")) {
            for (CSVRecord kind : reference(list)) {
                needed.add(kind.get("note"));
                needed.add(kind.get("source"));
                if (kind.get("parentage").matches(".*(unknown|ancient|founder|type|group|mutation|complex)")) {
                    needed.add(kind.get("parentage"));
                }
            }
        }
        for (CSVRecord item : reference("year-one-checklist")) {
            needed.add(item.get("source"));
            needed.add(item.get("how_known"));
        }
        needed.remove("");
        List<String> phrases = new ArrayList<>();
        module("reference", "").forEach((key, text) -> {
            if (key.startsWith(PHRASE)) {
                phrases.add(shipped(text));
            }
        });
        assertThat(phrases).containsExactlyInAnyOrderElementsOf(needed);
    }

    /** A message as the lists have it: in metric units. */
    private static String shipped(String message) {
        return UnitMessages.in(message.replace("''", "'"), UnitChoice.METRIC);
    }

    private static List<CSVRecord> reference(String name) throws IOException {
        return CSVFormat.DEFAULT
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get()
                .parse(Files.newBufferedReader(Path.of("shared/reference", name + ".csv")))
                .getRecords();
    }

    /** Scripts take their words from the page, which takes them from the messages. */
    @Test
    void scriptsHoldNoWordsOfTheirOwn() throws IOException {
        Pattern shown = Pattern.compile(
                "(textContent|innerText|title|placeholder|aria-label\"?,|alert\\(|confirm\\()\\s*[=:(]?\\s*[\"'`][^\"'`]*[A-Za-z]{3,} ");
        List<String> words = new ArrayList<>();
        try (Stream<Path> scripts = Files.list(Path.of("src/main/resources/static/js"))) {
            for (Path script : scripts.toList()) {
                Matcher found = shown.matcher(Files.readString(script).replaceAll("\\$\\{[^}]*}", ""));
                while (found.find()) {
                    words.add(script.getFileName() + ": " + found.group());
                }
            }
        }
        assertThat(words).isEmpty();
    }

    private static TreeSet<String> places(String text) {
        TreeSet<String> places = new TreeSet<>();
        Matcher place = PLACE.matcher(QUOTED.matcher(text).replaceAll(""));
        while (place.find()) {
            places.add(place.group(1));
        }
        return places;
    }

    private static Map<String, Map<String, String>> modules(String language) throws IOException {
        Map<String, Map<String, String>> modules = new TreeMap<>();
        try (Stream<Path> files = Files.list(MESSAGES)) {
            for (Path file : files.toList()) {
                String name = file.getFileName().toString().replace(".properties", "");
                if (!name.matches(".*_(de|fr)")) {
                    modules.put(name, module(name, language));
                }
            }
        }
        return modules;
    }

    private static Map<String, String> module(String module, String language) throws IOException {
        Map<String, String> texts = new TreeMap<>();
        for (String line : lines(module, language)) {
            int equals = line.indexOf('=');
            texts.put(line.substring(0, equals).strip(), line.substring(equals + 1));
        }
        return texts;
    }

    private static List<String> lines(String module, String language) throws IOException {
        Path file = MESSAGES.resolve(module + (language.isEmpty() ? "" : "_" + language) + ".properties");
        if (!Files.exists(file)) {
            return List.of();
        }
        return Files.readAllLines(file).stream()
                .filter(l -> !l.isBlank() && !l.startsWith("#") && l.contains("="))
                .toList();
    }
}
