package org.rootling.training.calc;

import java.util.Locale;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Heights of shoots as people type them. Inches and feet are exact by definition (1 in = 2.54 cm). */
public final class Heights {

    private static final Pattern TEXT = Pattern.compile(
            "(?:(\\d{1,3})\\s*(?:ft|'|feet)\\s*)?(?:(\\d{1,4}(?:[.,]\\d{1,2})?)\\s*(cm|m|mm|in|\"|inch|inches)?)?");

    private Heights() {}

    /**
     * Reads "35", "35 cm", "0.35 m", "14 in", "1 ft 2 in" or "4 ft" as whole cm. A number alone is cm; a number alone with
     * decimals is refused as ambiguous, and so is anything else.
     */
    public static OptionalInt parseCm(String text) {
        Matcher m = TEXT.matcher(text.strip().toLowerCase(Locale.ROOT));
        if (!m.matches() || (m.group(1) == null && m.group(2) == null)) {
            return OptionalInt.empty();
        }
        String unit = m.group(3);
        double feet = m.group(1) == null ? 0 : Integer.parseInt(m.group(1)) * 12 * 2.54;
        if (m.group(2) == null) {
            return OptionalInt.of((int) Math.round(feet));
        }
        double number = Double.parseDouble(m.group(2).replace(',', '.'));
        boolean decimals = number != Math.rint(number);
        if (m.group(1) != null) {
            boolean inches = unit == null || unit.startsWith("in") || unit.equals("\"");
            return inches && number < 12 ? OptionalInt.of((int) Math.round(feet + number * 2.54)) : OptionalInt.empty();
        }
        if (unit == null) {
            return decimals ? OptionalInt.empty() : OptionalInt.of((int) number);
        }
        double cm = switch (unit) {
            case "cm" -> number;
            case "m" -> number * 100;
            case "mm" -> number / 10;
            default -> number * 2.54;
        };
        return OptionalInt.of((int) Math.round(cm));
    }
}
