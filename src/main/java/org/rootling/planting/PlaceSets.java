package org.rootling.planting;

import java.util.Collection;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Sets of places as PostgreSQL multiranges, and as a person writes them: 3-18, 20. */
public final class PlaceSets {

    private static final Pattern RANGE = Pattern.compile("\\[(\\d+),(\\d+)\\)");

    private PlaceSets() {}

    /** As {@code int4multirange} text: {[3,19),[20,21)}. */
    public static String toMultirange(SortedSet<Integer> places) {
        StringBuilder out = new StringBuilder("{");
        forEachRun(places, (first, last) -> {
            if (out.length() > 1) {
                out.append(',');
            }
            out.append('[').append(first).append(',').append(last + 1).append(')');
        });
        return out.append('}').toString();
    }

    /** From the canonical text that PostgreSQL gives. */
    public static SortedSet<Integer> fromMultirange(String text) {
        SortedSet<Integer> places = new TreeSet<>();
        Matcher matcher = RANGE.matcher(text);
        while (matcher.find()) {
            int end = Integer.parseInt(matcher.group(2));
            for (int place = Integer.parseInt(matcher.group(1)); place < end; place++) {
                places.add(place);
            }
        }
        return places;
    }

    /** As a person writes them: "3-18, 20". */
    public static String words(Collection<Integer> places) {
        StringBuilder out = new StringBuilder();
        forEachRun(new TreeSet<>(places), (first, last) -> {
            if (out.length() > 0) {
                out.append(", ");
            }
            out.append(first);
            if (last > first) {
                out.append('-').append(last);
            }
        });
        return out.toString();
    }

    private interface Run {
        void accept(int first, int last);
    }

    private static void forEachRun(SortedSet<Integer> places, Run run) {
        int first = 0;
        int last = 0;
        boolean open = false;
        for (int place : places) {
            if (open && place == last + 1) {
                last = place;
                continue;
            }
            if (open) {
                run.accept(first, last);
            }
            first = place;
            last = place;
            open = true;
        }
        if (open) {
            run.accept(first, last);
        }
    }
}
