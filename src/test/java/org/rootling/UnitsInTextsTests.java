package org.rootling;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Properties;
import java.util.TreeMap;
import java.util.TreeSet;
import java.util.function.BiConsumer;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.rootling.platform.UnitChoice;
import org.rootling.platform.UnitMessages;

/** Help, advice and cautions speak to each reader in their own units: "[10 cm|4 in]" in a message says both. */
class UnitsInTextsTests {

    /** What names units itself, is kept or read in metric whoever looks, or is a size under which things are sold. */
    private static final Pattern METRIC_FOR_ALL = Pattern.compile("history\\..*|exchange\\..*|weather\\.unit\\..*"
            + "|weather\\.plot\\.(temperature-c|water-mm)|nursery\\.labels\\.sheet\\..*"
            + "|training\\.look\\.height-help|training\\.shoots\\.height-unclear"
            + "|training\\.dose\\..*|people\\.account\\.units-metric|reference\\.phrase\\.limit-set-cold");

    private static final Pattern METRIC = Pattern.compile("(?:\\d|\\})[ \u00a0\u202f-]?"
            + "(?:mm|cm|m/s|m|km|ha|kg|g|l|L|K|°C|m²|N/m|N m|N|MPa|Met(?:er|re)s?|m[eè]tres?|Liter|litres?|kilos?|Hektar|hectares?)"
            + "(?![\\p{L}’²/])");

    private static final Pattern EITHER = Pattern.compile("\\[([^\\[\\]|]*)\\|([^\\[\\]|]*)]");
    private static final Pattern NUMBER =
            Pattern.compile("-?\\d+(?:[.,\u00a0\u202f]\\d+)*(?:[ \u00a0-]?(?:mm|cm|m/s|m|kg|°C|K|ha|N|MPa))?");

    /** A heading that ends in a unit, such as "Tension, N". */
    private static final Pattern METRIC_HEADING =
            Pattern.compile(", (?:mm|cm|m|ha|kg|g|L|K|°C|°C·d|m²|m/s|N/m|N m|N|MPa)$");

    private static final double NEWTONS_PER_POUND_FORCE = 4.4482216152605;

    /** By what a number of the metric side is multiplied to be one of the other; exact, NIST SP 811, appendix B. */
    private static final double[] FACTORS = {
        1 / NEWTONS_PER_POUND_FORCE,
        // for each degree: a degree Fahrenheit is five ninths of a kelvin
        1 / NEWTONS_PER_POUND_FORCE / 1.8,
        // megapascals as pounds-force on each square inch
        1e6 * 0.0254 * 0.0254 / NEWTONS_PER_POUND_FORCE,
        1 / 0.3048,
        1 / 2.54,
        1 / 25.4,
        1 / 0.45359237,
        1 / 3.785411784,
        1 / 0.44704,
        1 / 0.40468564224,
        1 / 0.09290304,
        1.8,
        1 / 1.8,
        1
    };

    @Test
    void aReaderOfCustomaryUnitsReadsNoMetricOnes() throws IOException {
        TreeSet<String> metric = new TreeSet<>();
        each((key, text) -> {
            Matcher found = METRIC.matcher(UnitMessages.in(text, UnitChoice.US));
            if (!METRIC_FOR_ALL.matcher(key).matches() && found.find()) {
                metric.add(key + ": " + found.group() + " in " + text);
            }
            Matcher heading = METRIC_HEADING.matcher(UnitMessages.in(text, UnitChoice.US));
            if (!METRIC_FOR_ALL.matcher(key).matches() && heading.find()) {
                metric.add(key + ": " + text);
            }
        });
        assertThat(metric).isEmpty();
    }

    @Test
    void bothSidesSayAboutTheSame() throws IOException {
        TreeSet<String> apart = new TreeSet<>();
        int[] pairs = {0};
        each((key, text) -> {
            Matcher either = EITHER.matcher(text);
            while (either.find()) {
                pairs[0]++;
                List<Double> metric = numbers(either.group(1), key);
                for (double us : numbers(either.group(2), key)) {
                    if (!metric.isEmpty() && metric.stream().noneMatch(m -> near(m, us))) {
                        apart.add(key + ": " + either.group());
                    }
                }
            }
        });
        assertThat(apart).isEmpty();
        assertThat(pairs[0]).isGreaterThan(150);
    }

    @Test
    void everyLanguageSaysBothWhereEnglishDoes() throws IOException {
        Map<String, Long> english = new TreeMap<>();
        TreeSet<String> different = new TreeSet<>();
        each((key, text) -> {
            long pairs = EITHER.matcher(text).results().count();
            Long before = english.putIfAbsent(key, pairs);
            if (before != null && before != pairs) {
                different.add(key + ": " + text);
            }
        });
        assertThat(different).isEmpty();
    }

    /** A tenth is what rounding to handy numbers may cost; degrees by their formula. */
    private static boolean near(double metric, double us) {
        for (double factor : FACTORS) {
            if (Math.abs(metric * factor - us) <= 0.1 * Math.abs(us)) {
                return true;
            }
        }
        return Math.abs(metric * 1.8 + 32 - us) <= 1;
    }

    /** Numbers of a text with the decimal sign of its language; spaces and the other sign only group. */
    private static List<Double> numbers(String text, String key) {
        List<Double> numbers = new ArrayList<>();
        Matcher found = NUMBER.matcher(text);
        while (found.find()) {
            String digits = found.group().replaceAll("[^0-9.,-]", "").replaceAll("-$", "");
            // three digits behind a sign are thousands in all texts of ours
            digits = digits.replaceAll("[.,](\\d{3})(?!\\d)", "$1").replace(',', '.');
            numbers.add(Double.parseDouble(digits));
        }
        return numbers;
    }

    private static void each(BiConsumer<String, String> text) throws IOException {
        try (Stream<Path> files = Files.list(Path.of("src/main/resources/messages"))) {
            for (Path file : files.sorted().toList()) {
                Properties read = new Properties();
                try (var reader = Files.newBufferedReader(file)) {
                    read.load(reader);
                } catch (IOException failure) {
                    throw new UncheckedIOException(failure);
                }
                new TreeMap<>(read).forEach((key, value) -> text.accept(key.toString(), value.toString()));
            }
        }
    }
}
