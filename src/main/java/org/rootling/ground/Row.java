package org.rootling.ground;

import java.util.List;
import java.util.UUID;

/**
 * A row: one line of places, numbered from 1 at its start, over one or more stretches.
 *
 * @param number in its block, from 1
 * @param places planting positions in all its stretches
 */
public record Row(UUID id, UUID blockId, String blockCode, int number, int places, List<Stretch> stretches) {

    public Row {
        stretches = List.copyOf(stretches);
    }

    /** The stretch in which a place lies. */
    public Stretch stretch(int place) {
        for (Stretch s : stretches) {
            if (place >= s.firstPlace() && place <= s.lastPlace()) {
                return s;
            }
        }
        throw new IllegalArgumentException("no place " + place + " in " + name());
    }

    /** Where a place lies, metres in the block's plane. */
    public Point position(int place) {
        return stretch(place).position(place);
    }

    /** End post to end post over all stretches, metres. */
    public double lengthM() {
        return stretches.stream().mapToDouble(Stretch::lengthM).sum();
    }

    /** As people say it: {@code B2 r7}. */
    public String name() {
        return blockCode + " r" + number;
    }
}
