package org.rootling.work.domain;

import java.util.List;
import org.jspecify.annotations.Nullable;

/** The steps that come with the program, in the order in which they follow each other. Common practice, no source. */
enum BuiltInStep {
    MARK_OUT(true, 2, 3, null, "", 0, null),
    SET_END_POSTS(true, 2, 3, "post driver", "MARK_OUT", 0, "dig"),
    ANCHOR(true, 1, 2, null, "SET_END_POSTS", 0, "dig"),
    BORE(false, 1, 2, "auger", "MARK_OUT", 0, "auger"),
    PLANT(false, 1, 4, null, "BORE", 0, "lift"),
    WATER_IN(false, 1, 3, null, "PLANT", 0, null),
    GUARD(false, 1, 3, null, "PLANT", 0, null),
    STAKE(false, 1, 2, null, "PLANT", 0, "stake"),
    LINE_POSTS(true, 2, 3, "post driver", "MARK_OUT", 0, "dig"),
    STRING_WIRE(true, 2, 3, null, "SET_END_POSTS,ANCHOR,LINE_POSTS", 0, "wire"),
    TIGHTEN_WIRE(true, 1, 2, null, "STRING_WIRE", 0, "wire"),
    WATER(false, 1, 2, null, "", 0, null),
    TIE_IN(false, 1, 2, null, "STAKE", 0, null),
    PICK_SHOOTS(false, 1, 2, null, "", 0, null),
    WEED(false, 1, 3, null, "", 0, "weed"),
    CHECK(false, 1, 2, null, "", 0, null);

    final boolean wholeRow;
    final int peopleLeast;
    final int peopleMost;
    final @Nullable String tool;
    private final String after;
    final int waitDays;
    private final @Nullable String caution;

    BuiltInStep(
            boolean wholeRow,
            int peopleLeast,
            int peopleMost,
            @Nullable String tool,
            String after,
            int waitDays,
            @Nullable String caution) {
        this.wholeRow = wholeRow;
        this.peopleLeast = peopleLeast;
        this.peopleMost = peopleMost;
        this.tool = tool;
        this.after = after;
        this.waitDays = waitDays;
        this.caution = caution;
    }

    /** Codes of the steps that come before. */
    List<String> after() {
        return after.isEmpty() ? List.of() : List.of(after.split(","));
    }

    @Nullable
    String caution() {
        return caution == null ? null : "work.caution." + caution;
    }

    String nameKey() {
        return "work.step." + name();
    }
}
