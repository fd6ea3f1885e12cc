package org.rootling.trellis.calc;

import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/**
 * One thing to buy.
 *
 * @param kind what it is
 * @param steel for wire, else null
 * @param lengthM length of the piece, for wire of the coil, metres; 0 where it does not matter
 * @param diameterMm diameter, millimetres; 0 where it does not matter
 * @param quantity how much, in the kind's unit, without spares
 */
public record Item(Kind kind, @Nullable WireKind steel, double lengthM, double diameterMm, double quantity) {
    /** What a quantity counts. */
    public enum Unit {
        PIECE,
        METRE,
        KILOGRAM
    }

    /** Kinds of material, in the order of the sheet. */
    public enum Kind {
        END_POST(Unit.PIECE),
        STRUT(Unit.PIECE),
        RAIL(Unit.PIECE),
        ANCHOR(Unit.PIECE),
        LINE_POST(Unit.PIECE),
        WIRE(Unit.METRE),
        TIE_WIRE(Unit.METRE),
        TENSIONER(Unit.PIECE),
        JOINER(Unit.PIECE),
        STAPLE(Unit.KILOGRAM),
        STAKE(Unit.PIECE),
        GUARD(Unit.PIECE),
        CLIP(Unit.PIECE);

        private final Unit unit;

        Kind(Unit unit) {
            this.unit = unit;
        }

        public Unit unit() {
            return unit;
        }
    }

    /** Mass of wire in kilograms; 0 for what is not wire. */
    public double massKg() {
        return steel == null ? 0 : quantity * new Wire(steel, diameterMm / 1000).massKgPerM();
    }

    /** Coils that hold the quantity of a wire, the last one begun; 0 for what is not wire. */
    public long coils() {
        return steel == null ? 0 : (long) Math.ceil(quantity / lengthM - 1e-9);
    }

    /** Names the thing apart from its quantity: equal things of several blocks have equal keys. */
    public String key() {
        return String.format(
                Locale.ROOT,
                "%s:%s:%d:%.2f",
                kind,
                steel == null ? "-" : steel.name(),
                Math.round(lengthM * 1000),
                diameterMm);
    }

    /** Reads a key back; the quantity is 0. Empty when it is not a key. */
    public static Optional<Item> ofKey(String key) {
        String[] parts = key.split(":", -1);
        try {
            if (parts.length != 4) {
                return Optional.empty();
            }
            WireKind steel = parts[1].equals("-") ? null : WireKind.valueOf(parts[1]);
            double length = Integer.parseInt(parts[2]) / 1000.0;
            Item item = new Item(Kind.valueOf(parts[0]), steel, length, Double.parseDouble(parts[3]), 0);
            return item.key().equals(key) ? Optional.of(item) : Optional.empty();
        } catch (IllegalArgumentException notAKey) {
            return Optional.empty();
        }
    }
}
