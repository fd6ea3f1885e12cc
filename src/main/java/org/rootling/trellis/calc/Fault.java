package org.rootling.trellis.calc;

import java.util.List;

/**
 * One reason why a number is refused, tied to the field it was typed into.
 *
 * @param field path of the field, as in the request or form ({@code endPost.leanDeg}, {@code wires[0].tensionN})
 * @param code message key
 * @param args values for the message, in order
 */
public record Fault(String field, String code, List<Object> args) {
    public Fault {
        args = List.copyOf(args);
    }

    static Fault of(String field, String code, Object... args) {
        return new Fault(field, code, List.of(args));
    }
}
