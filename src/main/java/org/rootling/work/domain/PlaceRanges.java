package org.rootling.work.domain;

import java.util.Collection;
import java.util.Collections;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Sets of places as PostgreSQL writes an int4multirange: {@code {[3,19),[20,21)}}. */
final class PlaceRanges {
    private static final Pattern RANGE = Pattern.compile("\\[(\\d+),(\\d+)\\)");

    private PlaceRanges() {}

    static String text(Collection<Integer> places) {
        StringBuilder text = new StringBuilder("{");
        int from = 0;
        int to = 0;
        for (int p : new TreeSet<>(places)) {
            if (from > 0 && p == to) {
                to = p + 1;
                continue;
            }
            append(text, from, to);
            from = p;
            to = p + 1;
        }
        append(text, from, to);
        return text.append('}').toString();
    }

    private static void append(StringBuilder text, int from, int to) {
        if (from > 0) {
            text.append(text.length() > 1 ? "," : "")
                    .append('[')
                    .append(from)
                    .append(',')
                    .append(to)
                    .append(')');
        }
    }

    static SortedSet<Integer> read(String text) {
        SortedSet<Integer> places = new TreeSet<>();
        Matcher m = RANGE.matcher(text);
        while (m.find()) {
            for (int p = Integer.parseInt(m.group(1)); p < Integer.parseInt(m.group(2)); p++) {
                places.add(p);
            }
        }
        return Collections.unmodifiableSortedSet(places);
    }
}
