package org.rootling.platform;

import java.math.BigDecimal;
import java.text.DecimalFormatSymbols;
import java.util.Locale;
import org.jspecify.annotations.Nullable;

/** Numbers as people type them: with a decimal point or a decimal comma, never grouped. */
public final class NumberText {

    private NumberText() {}

    /**
     * Reads "1.5" and "1,5"; nothing for empty text.
     *
     * @throws IllegalArgumentException for anything else, "1.234,5" included: it is refused rather than guessed at
     */
    public static @Nullable BigDecimal read(String text) {
        String plain = text.strip().toUpperCase(Locale.ROOT).replace(',', '.').replace('\u2212', '-');
        if (plain.isEmpty()) {
            return null;
        }
        // Without this bound "1e999999999" would be a number of a billion digits.
        if (plain.length() > 24 || !plain.matches("[+-]?[0-9]*\\.?[0-9]+(E[+-]?[0-9]{1,2})?|[+-]?[0-9]+\\.")) {
            throw new IllegalArgumentException("not a number");
        }
        return new BigDecimal(plain);
    }

    /** With the decimal sign of a language and no more decimals than it needs; readable by {@link #read}. */
    public static String write(BigDecimal value, Locale locale) {
        BigDecimal bare = value.signum() == 0 ? BigDecimal.ZERO : value.stripTrailingZeros();
        return bare.toPlainString()
                .replace('.', DecimalFormatSymbols.getInstance(locale).getDecimalSeparator());
    }
}
