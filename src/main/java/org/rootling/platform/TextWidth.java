package org.rootling.platform;

import java.text.Normalizer;
import java.util.ArrayList;
import java.util.List;

/**
 * How wide text is, measured without a browser: with the widths of DejaVu Sans, which is wider than the other fonts that
 * screens use for plain text, so that what fits here fits there.
 */
public final class TextWidth {
    /** Hundredths of the font size, rounded up, for the characters from space to tilde. */
    private static final int[] WIDTHS = {
        32, 41, 46, 84, 64, 96, 78, 28, 40, 40, 50, 84, 32, 37, 32, 34, 64, 64, 64, 64, 64, 64, 64, 64, 64, 64, 34, 34,
                84, 84,
        84, 54, 100, 69, 69, 70, 78, 64, 58, 78, 76, 30, 30, 66, 56, 87, 75, 79, 61, 79, 70, 64, 62, 74, 69, 99, 69, 62,
                69, 40,
        34, 40, 84, 50, 50, 62, 64, 55, 64, 62, 36, 64, 64, 28, 28, 58, 28, 98, 64, 62, 64, 64, 42, 53, 40, 64, 60, 82,
                60, 60,
        53, 64, 34, 64, 84
    };

    private static final int OTHER = 103;

    private TextWidth() {}

    /** Width of a line, in the unit of the font size. */
    public static double of(String text, double size) {
        String plain = Normalizer.normalize(text, Normalizer.Form.NFD);
        int sum = 0;
        for (int i = 0; i < plain.length(); i++) {
            char c = plain.charAt(i);
            if (c >= ' ' && c <= '~') {
                sum += WIDTHS[c - ' '];
            } else if (Character.getType(c) != Character.NON_SPACING_MARK) {
                sum += OTHER;
            }
        }
        return sum * size / 100;
    }

    /** Lines of at most a width; words go to the next line, and one that is longer than a line is broken with a hyphen. */
    public static List<String> wrap(String text, double size, double room) {
        List<String> lines = new ArrayList<>();
        String line = "";
        for (String word : text.strip().split("\\s+")) {
            String longer = line.isEmpty() ? word : line + " " + word;
            if (of(longer, size) <= room) {
                line = longer;
                continue;
            }
            if (!line.isEmpty()) {
                lines.add(line);
            }
            line = word;
            while (of(line, size) > room && line.length() > 2) {
                int fits = fitting(line, size, room);
                lines.add(line.charAt(fits - 1) == '-' ? line.substring(0, fits) : line.substring(0, fits) + "-");
                line = line.substring(fits);
            }
        }
        if (!line.isEmpty()) {
            lines.add(line);
        }
        return lines;
    }

    /** How many letters of a word fit with a hyphen; its own hyphen is the better place. */
    private static int fitting(String word, double size, double room) {
        int fits = 1;
        while (fits < word.length() - 1 && of(word.substring(0, fits + 1) + "-", size) <= room) {
            fits++;
        }
        int hyphen = word.lastIndexOf('-', fits - 1);
        return hyphen > 0 ? hyphen + 1 : fits;
    }
}
