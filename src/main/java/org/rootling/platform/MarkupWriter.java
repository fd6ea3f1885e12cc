package org.rootling.platform;

import org.jspecify.annotations.Nullable;

/** Writes SVG and HTML as text: numbers short and with a dot, text and attributes escaped, no style or script. */
public final class MarkupWriter {

    private final StringBuilder out = new StringBuilder(4096);

    /** Opens an element with attribute name and value pairs; numbers have up to 3 decimals, an attribute of null is left out. */
    public MarkupWriter open(String element, @Nullable Object... attributes) {
        start(element, attributes);
        out.append('>');
        return this;
    }

    /** Closes an element. */
    public MarkupWriter close(String element) {
        out.append("</").append(element).append('>');
        return this;
    }

    /** Writes an element without content. */
    public MarkupWriter empty(String element, @Nullable Object... attributes) {
        start(element, attributes);
        out.append("/>");
        return this;
    }

    /** Writes a straight line. */
    public MarkupWriter line(double x1, double y1, double x2, double y2, @Nullable Object... attributes) {
        @Nullable Object[] all = new @Nullable Object[8 + attributes.length];
        System.arraycopy(new Object[] {"x1", x1, "y1", y1, "x2", x2, "y2", y2}, 0, all, 0, 8);
        System.arraycopy(attributes, 0, all, 8, attributes.length);
        return empty("line", all);
    }

    /** Writes an element with text in it. */
    public MarkupWriter text(String element, String text, @Nullable Object... attributes) {
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
                number(out, number);
            } else {
                escape(String.valueOf(value));
            }
            out.append('"');
        }
    }

    private void escape(String text) {
        int written = 0;
        for (int i = 0; i < text.length(); i++) {
            String instead = instead(text.charAt(i));
            if (instead != null) {
                out.append(text, written, i).append(instead);
                written = i + 1;
            }
        }
        out.append(text, written, text.length());
    }

    private static @Nullable String instead(char c) {
        return switch (c) {
            case '<' -> "&lt;";
            case '>' -> "&gt;";
            case '&' -> "&amp;";
            case '"' -> "&quot;";
            case '\'' -> "&#39;";
            default -> null;
        };
    }

    /** A number with up to three decimals and no trailing zeros; written by hand, since a drawing has thousands. */
    public static String number(double value) {
        StringBuilder out = new StringBuilder(12);
        number(out, value);
        return out.toString();
    }

    /** Appends a {@link #number}. */
    public static void number(StringBuilder out, double value) {
        if (!(Math.abs(value) < 1e12)) {
            out.append(value);
            return;
        }
        long thousandths = Math.round(value * 1000);
        if (thousandths < 0) {
            out.append('-');
            thousandths = -thousandths;
        }
        out.append(thousandths / 1000);
        int rest = (int) (thousandths % 1000);
        if (rest > 0) {
            out.append('.');
            for (int place = 100; rest > 0; place /= 10) {
                out.append((char) ('0' + rest / place));
                rest %= place;
            }
        }
    }

    @Override
    public String toString() {
        return out.toString();
    }
}
