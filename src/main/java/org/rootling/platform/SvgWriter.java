package org.rootling.platform;

import org.jspecify.annotations.Nullable;

/** Writes SVG as text: numbers short and with a dot, text and attributes escaped, no style or script. */
public final class SvgWriter {

    private final StringBuilder out = new StringBuilder(4096);

    /** Opens an element with attribute name and value pairs; numbers have up to 3 decimals, an attribute of null is left out. */
    public SvgWriter open(String element, @Nullable Object... attributes) {
        start(element, attributes);
        out.append('>');
        return this;
    }

    /** Closes an element. */
    public SvgWriter close(String element) {
        out.append("</").append(element).append('>');
        return this;
    }

    /** Writes an element without content. */
    public SvgWriter empty(String element, @Nullable Object... attributes) {
        start(element, attributes);
        out.append("/>");
        return this;
    }

    /** Writes a straight line. */
    public SvgWriter line(double x1, double y1, double x2, double y2, @Nullable Object... attributes) {
        @Nullable Object[] all = new @Nullable Object[8 + attributes.length];
        System.arraycopy(new Object[] {"x1", x1, "y1", y1, "x2", x2, "y2", y2}, 0, all, 0, 8);
        System.arraycopy(attributes, 0, all, 8, attributes.length);
        return empty("line", all);
    }

    /** Writes an element with text in it. */
    public SvgWriter text(String element, String text, @Nullable Object... attributes) {
        open(element, attributes);
        escape(text);
        return close(element);
    }

    private void start(String element, @Nullable Object... attributes) {
        if (attributes.length % 2 != 0) {
            throw new IllegalArgumentException("attributes come in pairs");
        }
        out.append('<').append(element);
        for (int i = 0; i < attributes.length; i += 2) {
            Object value = attributes[i + 1];
            if (value == null) {
                continue;
            }
            out.append(' ').append(attributes[i]).append("=\"");
            if (value instanceof Double number) {
                out.append(number(number));
            } else {
                escape(String.valueOf(value));
            }
            out.append('"');
        }
    }

    private void escape(String text) {
        for (int i = 0; i < text.length(); i++) {
            char c = text.charAt(i);
            switch (c) {
                case '<' -> out.append("&lt;");
                case '>' -> out.append("&gt;");
                case '&' -> out.append("&amp;");
                case '"' -> out.append("&quot;");
                case '\'' -> out.append("&#39;");
                default -> out.append(c);
            }
        }
    }

    /** A number with up to three decimals and no trailing zeros; written by hand, since a drawing has thousands. */
    public static String number(double value) {
        if (!(Math.abs(value) < 1e12)) {
            return Double.toString(value);
        }
        long thousandths = Math.round(value * 1000);
        long whole = Math.abs(thousandths) / 1000;
        int rest = (int) (Math.abs(thousandths) % 1000);
        String sign = thousandths < 0 ? "-" : "";
        if (rest == 0) {
            return sign + whole;
        }
        int digits = 3;
        while (rest % 10 == 0) {
            rest /= 10;
            digits--;
        }
        String decimals = Integer.toString(rest);
        return sign + whole + "." + "0".repeat(digits - decimals.length()) + decimals;
    }

    @Override
    public String toString() {
        return out.toString();
    }
}
