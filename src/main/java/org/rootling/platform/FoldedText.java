package org.rootling.platform;

import java.text.Normalizer;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.regex.Pattern;

/** Text as people look for it: without case and accents, so that "gruner" finds "Grüner" and "strasse" finds "Straße". */
public final class FoldedText {

    private static final Pattern MARKS = Pattern.compile("\\p{M}+");
    private static final Pattern BLANKS = Pattern.compile("\\s+");

    private FoldedText() {}

    /** The text with small letters that carry no marks; ligatures are spelled out. */
    public static String of(String text) {
        String bare =
                MARKS.matcher(Normalizer.normalize(text, Normalizer.Form.NFKD)).replaceAll("");
        return bare.toLowerCase(Locale.ROOT)
                .replace("ß", "ss")
                .replace("œ", "oe")
                .replace("æ", "ae")
                .replace('ø', 'o')
                .replace('ł', 'l')
                .replace('đ', 'd')
                .replace('ı', 'i');
    }

    /** The words of what was asked for, folded; none for nothing. */
    public static List<String> words(String asked) {
        return Arrays.stream(BLANKS.split(of(asked).strip()))
                .filter(word -> !word.isEmpty())
                .toList();
    }
}
