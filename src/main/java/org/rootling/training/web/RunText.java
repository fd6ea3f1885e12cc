package org.rootling.training.web;

import java.util.LinkedHashMap;
import java.util.Locale;
import java.util.Map;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.PlaceRun;
import org.rootling.ground.ResolvedRun;
import org.rootling.ground.Row;
import org.rootling.platform.Refused;
import org.springframework.stereotype.Component;

/** Reads runs of places as people type them on these pages. */
@Component
class RunText {

    private static final Pattern BUT = Pattern.compile("\\s+but\\s+", Pattern.CASE_INSENSITIVE);

    /** More lines than this in one list are a paste gone wrong. */
    private static final int MOST_LINES = 200;

    private final Ground ground;

    RunText(Ground ground) {
        this.ground = ground;
    }

    /** Places within a row, such as "3-18, 20"; none where nothing is typed. */
    SortedSet<Integer> places(Row row, @Nullable String text, String field) {
        if (text == null || text.isBlank()) {
            return new TreeSet<>();
        }
        try {
            SortedSet<Integer> typed = PlaceRun.numbers(text);
            return new TreeSet<>(PlaceRun.of(row.blockCode(), row.number(), typed)
                    .within(row.places())
                    .places());
        } catch (Refused refused) {
            throw refused.at(field);
        }
    }

    /** Every place of a row. */
    static SortedSet<Integer> all(Row row) {
        SortedSet<Integer> all = new TreeSet<>();
        for (int place = 1; place <= row.places(); place++) {
            all.add(place);
        }
        return all;
    }

    /** Runs of a block, one a line, such as "r7 3-18 but 7, 12" or "r8"; by row id. */
    Map<UUID, SortedSet<Integer>> runs(String blockCode, @Nullable String text, String field) {
        Map<UUID, SortedSet<Integer>> runs = new LinkedHashMap<>();
        String[] lines = text == null ? new String[0] : text.strip().split("\\R");
        if (lines.length > MOST_LINES) {
            throw new Refused("training.run.too-many-lines", MOST_LINES).at(field);
        }
        for (String line : lines) {
            if (!line.isBlank()) {
                ResolvedRun run = run(blockCode, line.strip(), field);
                runs.merge(run.row().id(), run.places(), (a, b) -> {
                    SortedSet<Integer> both = new TreeSet<>(a);
                    both.addAll(b);
                    return both;
                });
            }
        }
        return runs;
    }

    private ResolvedRun run(String blockCode, String line, String field) {
        String[] parts = BUT.split(line, 2);
        boolean bare = parts[0].toLowerCase(Locale.ROOT).matches("r?\\s*\\d.*");
        try {
            PlaceRun run = PlaceRun.parse(bare ? blockCode + " " + withR(parts[0]) : parts[0]);
            ResolvedRun resolved = ground.resolve(parts.length == 2 ? run.but(parts[1]) : run);
            if (!resolved.row().blockCode().equals(blockCode)) {
                throw new Refused("training.run.other-block", line, blockCode);
            }
            return resolved;
        } catch (Refused refused) {
            throw refused.at(field);
        }
    }

    private static String withR(String text) {
        return Character.isDigit(text.charAt(0)) ? "r" + text : text;
    }
}
