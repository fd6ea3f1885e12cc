package org.rootling.ground;

import java.util.Collection;
import java.util.Collections;
import java.util.Locale;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.rootling.platform.Refused;

/**
 * A run of places: the compact way to name vines. {@code B2 r7 3-18, 20} is block B2, row 7, places 3 to 18 and 20;
 * {@code B2 r7} alone is the whole row, whose number of places only the row itself knows ({@link Ground#resolve}).
 *
 * <p>Written in canonical form, neighbouring places joined: {@code B2 r7 3-6, 8-11}.
 */
public final class PlaceRun {
    /** Longest text that is read. */
    public static final int MOST_TEXT = 1000;
    /** Highest place a row can have. */
    public static final int MOST_PLACES = 100_000;

    private static final Pattern FORM = Pattern.compile(
            "\\s*([\\p{L}\\p{N}][\\p{L}\\p{N}._/-]*)\\s+[rR]\\s*(\\d{1,6})(?:\\s+(.+?))?\\s*", Pattern.DOTALL);
    private static final Pattern RANGE = Pattern.compile("(\\d{1,7})(?:\\s*[-\u2013]\\s*(\\d{1,7}))?");

    private final String blockCode;
    private final int row;
    private final boolean whole;
    private final SortedSet<Integer> places;
    private final SortedSet<Integer> left;

    private PlaceRun(String blockCode, int row, boolean whole, SortedSet<Integer> places, SortedSet<Integer> left) {
        this.blockCode = blockCode;
        this.row = row;
        this.whole = whole;
        this.places = Collections.unmodifiableSortedSet(places);
        this.left = Collections.unmodifiableSortedSet(left);
    }

    /**
     * Reads a run.
     *
     * @throws Refused when it does not say a block, a row and places; {@code ground.run.*}
     */
    public static PlaceRun parse(String text) {
        if (text.length() > MOST_TEXT) {
            throw new Refused("ground.run.too-long", MOST_TEXT);
        }
        Matcher m = FORM.matcher(text);
        if (!m.matches()) {
            throw new Refused("ground.run.not-understood", shown(text));
        }
        int row = Integer.parseInt(m.group(2));
        String places = m.group(3);
        if (row == 0) {
            throw new Refused("ground.run.row-zero");
        }
        boolean whole = places == null;
        return new PlaceRun(
                m.group(1).toUpperCase(Locale.ROOT),
                row,
                whole,
                whole ? new TreeSet<>() : numbers(places),
                new TreeSet<>());
    }

    /** Reads places alone: {@code 3-18, 20}. */
    public static SortedSet<Integer> numbers(String text) {
        if (text.length() > MOST_TEXT) {
            throw new Refused("ground.run.too-long", MOST_TEXT);
        }
        SortedSet<Integer> all = new TreeSet<>();
        for (String part : text.strip().split("[,;]")) {
            Matcher m = RANGE.matcher(part.strip());
            if (!m.matches()) {
                throw new Refused("ground.run.not-understood", shown(part));
            }
            int from = Integer.parseInt(m.group(1));
            int to = m.group(2) == null ? from : Integer.parseInt(m.group(2));
            if (from < 1 || to > MOST_PLACES) {
                throw new Refused("ground.run.outside", shown(part), 1, MOST_PLACES);
            }
            if (to < from) {
                throw new Refused("ground.run.backwards", from, to);
            }
            for (int i = from; i <= to; i++) {
                all.add(i);
            }
        }
        return all;
    }

    /** A run of known places. */
    public static PlaceRun of(String blockCode, int row, Collection<Integer> places) {
        return new PlaceRun(blockCode, row, false, new TreeSet<>(places), new TreeSet<>());
    }

    /** All of this run but those places, given as {@code 7, 12}; nothing given leaves it as it is. */
    public PlaceRun but(String exceptions) {
        if (exceptions.isBlank()) {
            return this;
        }
        SortedSet<Integer> without = numbers(exceptions);
        if (whole) {
            SortedSet<Integer> both = new TreeSet<>(left);
            both.addAll(without);
            return new PlaceRun(blockCode, row, true, places, both);
        }
        for (int place : without) {
            if (!places.contains(place)) {
                throw new Refused("ground.run.exception-outside", place);
            }
        }
        SortedSet<Integer> rest = new TreeSet<>(places);
        rest.removeAll(without);
        return new PlaceRun(blockCode, row, false, rest, left);
    }

    /**
     * The run in a row of that many places.
     *
     * @throws Refused when a place lies outside the row
     */
    public PlaceRun within(int count) {
        SortedSet<Integer> named = whole ? left : places;
        if (!named.isEmpty() && named.last() > count) {
            throw new Refused("ground.run.outside", named.last(), 1, count);
        }
        if (!whole) {
            return this;
        }
        SortedSet<Integer> all = new TreeSet<>();
        for (int i = 1; i <= count; i++) {
            all.add(i);
        }
        all.removeAll(left);
        return new PlaceRun(blockCode, row, false, all, new TreeSet<>());
    }

    /** Code of the block, upper case. */
    public String blockCode() {
        return blockCode;
    }

    /** Number of the row in the block, from 1. */
    public int row() {
        return row;
    }

    /** The whole row, less exceptions; its places are known only after {@link #within}. */
    public boolean isWholeRow() {
        return whole;
    }

    /** The places by number, from 1 at the start of the row; empty for a whole row not yet resolved. */
    public SortedSet<Integer> places() {
        return places;
    }

    /** Places alone in canonical form, neighbours joined: {@code 3-6, 8}. */
    public static String shorten(SortedSet<Integer> places) {
        StringBuilder text = new StringBuilder();
        int from = -1;
        int to = -1;
        for (int p : places) {
            if (p != to + 1 || from < 0) {
                append(text, from, to);
                from = p;
            }
            to = p;
        }
        append(text, from, to);
        return text.toString();
    }

    private static void append(StringBuilder text, int from, int to) {
        if (from > 0) {
            text.append(text.isEmpty() ? "" : ", ").append(from);
            if (to > from) {
                text.append('-').append(to);
            }
        }
    }

    private static String shown(String text) {
        String plain = text.strip();
        return plain.length() > 40 ? plain.substring(0, 40) + "\u2026" : plain;
    }

    @Override
    public String toString() {
        String rows = blockCode + " r" + row;
        if (whole) {
            return left.isEmpty() ? rows : rows + " but " + shorten(left);
        }
        return places.isEmpty() ? rows + " none" : rows + " " + shorten(places);
    }

    @Override
    public boolean equals(@org.jspecify.annotations.Nullable Object other) {
        return other instanceof PlaceRun o && toString().equals(o.toString());
    }

    @Override
    public int hashCode() {
        return toString().hashCode();
    }
}
