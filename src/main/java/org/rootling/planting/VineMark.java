package org.rootling.planting;

import java.util.Arrays;
import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * How a place is drawn: a shape of its own for each state, so that colour is never the only sign. The word is the message
 * {@code planting.state.KEY}, the colour the style class {@code mark KEY}.
 *
 * @param key empty, or the state's key
 * @param shape name of the shape in the ground's plans; bare is drawn there as a place without a mark
 * @param path outline in a box of 20 by 20
 */
public record VineMark(String key, String shape, String path) {

    private static final VineMark EMPTY = new VineMark("empty", "bare", "M10 8a2 2 0 1 0 .01 0Z");

    /** The mark of a state; null for an empty place. */
    public static VineMark of(@Nullable VineState state) {
        if (state == null) {
            return EMPTY;
        }
        return switch (state) {
            case PLANTED -> new VineMark(state.key(), "ring", "M10 4a6 6 0 1 0 .01 0Z");
            case GROWING -> new VineMark(state.key(), "dot", "M10 3a7 7 0 1 0 .01 0Z");
            case WEAK -> new VineMark(state.key(), "triangle", "M10 3 18 17H2Z");
            case NOT_MOVING -> new VineMark(state.key(), "square", "M4 4H16V16H4Z");
            case DEAD -> new VineMark(state.key(), "cross", "M4 4 16 16M16 4 4 16");
            case MISSING -> new VineMark(state.key(), "dash", "M3 8.5H17V11.5H3Z");
        };
    }

    /** Every mark, for a legend. */
    public static List<VineMark> legend() {
        return java.util.stream.Stream.concat(
                        Arrays.stream(VineState.values()).map(VineMark::of), java.util.stream.Stream.of(EMPTY))
                .toList();
    }
}
