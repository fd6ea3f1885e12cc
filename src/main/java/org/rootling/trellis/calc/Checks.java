package org.rootling.trellis.calc;

import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;

/** Collects every fault of an input, so that all wrong fields are named at once. */
final class Checks {
    private final List<Fault> faults = new ArrayList<>();

    List<Fault> faults() {
        return List.copyOf(faults);
    }

    boolean clean() {
        return faults.isEmpty();
    }

    void refuse(String field, String code, Object... args) {
        faults.add(Fault.of(field, code, args));
    }

    /** False, with a fault, unless the value is there and lies within the bounds; NaN never does. */
    boolean within(String field, @Nullable Number value, double min, double max) {
        if (value == null) {
            refuse(field, "trellis.fault.missing");
            return false;
        }
        double number = value.doubleValue();
        if (!(number >= min && number <= max)) {
            refuse(field, "trellis.fault.range", min, max);
            return false;
        }
        return true;
    }

    /** End-post rules that the preview and the plan share; false when no post can be made of the numbers. */
    boolean endPost(String path, @Nullable Double lengthM, @Nullable Double leanDeg, @Nullable Double buriedM) {
        boolean length = within(path + ".lengthM", lengthM, 0.5, 8);
        boolean lean = false;
        if (leanDeg != null && leanDeg > EndPost.MAX_LEAN_DEG && leanDeg <= 360) {
            refuse(path + ".leanDeg", "trellis.fault.lean", EndPost.MAX_LEAN_DEG);
        } else {
            lean = within(path + ".leanDeg", leanDeg, 0, EndPost.MAX_LEAN_DEG);
        }
        boolean buried = false;
        if (length && buriedM != null && lengthM != null && buriedM >= lengthM) {
            refuse(path + ".buriedM", "trellis.fault.buried", buriedM, lengthM);
        } else {
            buried = within(path + ".buriedM", buriedM, 0.1, 8);
        }
        return length && lean && buried;
    }

    /** Rules for one wire; {@code topM} is the height of the post's top, or null when that is not known. */
    void wire(String path, @Nullable Double heightM, @Nullable Double tensionN, @Nullable Wire wire, double topM) {
        if (heightM != null && heightM <= 0) {
            refuse(path + ".heightM", "trellis.fault.wire-underground");
        } else if (within(path + ".heightM", heightM, 0.01, 8) && heightM != null && heightM > topM + 1e-9) {
            refuse(path + ".heightM", "trellis.fault.wire-over-top", topM);
        }
        if (within(path + ".tensionN", tensionN, 1, 1e6)
                && tensionN != null
                && wire != null
                && tensionN >= wire.breakingN()) {
            refuse(path + ".tensionN", "trellis.fault.tension", wire.breakingN());
        }
    }

    /** The tie's height on the post, if one is given. */
    void tieHeight(String field, @Nullable Double heightM, double topM) {
        if (heightM != null && !(heightM >= 0.1 && heightM <= topM + 1e-9)) {
            refuse(field, "trellis.fault.tie-height", 0.1, topM);
        }
    }

    /**
     * A span so wide that no row gets a line post, although the longest row is longer than any published bay (30 ft).
     */
    void someLinePost(String field, double maxSpanM, double longestM, int posts) {
        if (posts == 0 && longestM > Published.WIDEST_BAY_M + 1e-9) {
            refuse(field, "trellis.fault.no-post", maxSpanM, longestM);
        }
    }
}
