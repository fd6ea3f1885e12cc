package org.rootling.trellis.calc;

import java.util.List;

/**
 * Something to think about before building.
 *
 * @param code message key
 * @param args values for the message, in order
 */
public record Caution(String code, List<Object> args) {
    public Caution {
        args = List.copyOf(args);
    }

    static Caution of(String code, Object... args) {
        return new Caution(code, List.of(args));
    }
}
