package org.rootling.nursery.calc;

import java.util.Locale;

/**
 * Codes for lots that can be read out across a field and written on a tag: the year's last two digits and letters that
 * are hard to take for digits or for each other: 27-A, 27-C … 27-Y, 27-AA … Our own scheme.
 */
public final class LotCode {

    /** Without B, G, I, O, Q, S, V, Z: they pass for 8, 6, 1, 0, 0, 5, U and 2. */
    private static final String LETTERS = "ACDEFHJKLMNPRTUWXY";

    private LotCode() {}

    /**
     * The code of a year's nth lot.
     *
     * @param year year of receipt
     * @param number 1 for the first
     */
    public static String of(int year, int number) {
        if (number < 1) {
            throw new IllegalArgumentException("lots are numbered from 1");
        }
        StringBuilder letters = new StringBuilder();
        for (int rest = number; rest > 0; rest = (rest - 1) / LETTERS.length()) {
            letters.insert(0, LETTERS.charAt((rest - 1) % LETTERS.length()));
        }
        return String.format(Locale.ROOT, "%02d-%s", Math.floorMod(year, 100), letters);
    }
}
