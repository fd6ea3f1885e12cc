package org.rootling.training.calc;

import java.util.Locale;
import java.util.OptionalInt;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Heights of shoots as people type them. Inches and feet are exact by definition (1 in = 2.54 cm, 1 ft = 12 in). */
public final class Heights {

    private static final double INCH = 2.54;
    private static final double FOOT = 12 * INCH;

    private static final String NUMBER = "(\\d{1,4}(?:[.,]\\d{1,2})?)";
    private static final Pattern TEXT = Pattern.compile(
            "(?:" + NUMBER + "\\s*(?:ft|'|feet|foot)\\s*)?(?:" + NUMBER + "\\s*(cm|m|mm|in|\"|inch|inches)?)?");

    private Heights() {}

    /**
     * Reads "35", "35 cm", "0.35 m", "14 in", "1 ft 2 in", "4 ft" or "1.5 ft" as whole cm. A number alone is in the unit of
     * the person who types it; a number alone with decimals may be metres or feet as well and is refused, and so is
     * anything else.
     *
     * @param inches whether a number alone is in inches, not in cm
     */
    public static OptionalInt parseCm(String text, boolean inches) {
        Matcher m = TEXT.matcher(text.strip().toLowerCase(Locale.ROOT));
        if (!m.matches()) {
            return OptionalInt.empty();
        }
        String feet = m.group(1);
        String rest = m.group(2);
        String unit = m.group(3);
        if (feet != null) {
            if (rest == null) {
                return cm(number(feet) * FOOT);
            }
            boolean ofFeet = unit == null || unit.startsWith("in") || unit.equals("\"");
            return ofFeet && whole(number(feet)) && number(rest) < 12
                    ? cm(number(feet) * FOOT + number(rest) * INCH)
                    : OptionalInt.empty();
        }
        if (rest == null) {
            return OptionalInt.empty();
        }
        double number = number(rest);
        if (unit == null) {
            return whole(number) ? cm(inches ? number * INCH : number) : OptionalInt.empty();
        }
        return switch (unit) {
            case "cm" -> cm(number);
            case "m" -> cm(number * 100);
            case "mm" -> cm(number / 10);
            default -> cm(number * INCH);
        };
    }

    private static double number(String digits) {
        return Double.parseDouble(digits.replace(',', '.'));
    }

    private static boolean whole(double number) {
        return number == Math.rint(number);
    }

    private static OptionalInt cm(double cm) {
        return OptionalInt.of((int) Math.round(cm));
    }
}
