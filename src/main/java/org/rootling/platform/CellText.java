package org.rootling.platform;

/** Text on its way into a table that a spreadsheet may open. */
public final class CellText {

    private CellText() {}

    /**
     * Text that a spreadsheet would run as a formula gets an apostrophe in front, and so does text that begins with one, so
     * that taking one away always gives back what was there (CWE-1236).
     */
    public static String harmless(String text) {
        return !text.isEmpty() && "=+-@\t\r\n'".indexOf(text.charAt(0)) >= 0 ? "'" + text : text;
    }
}
