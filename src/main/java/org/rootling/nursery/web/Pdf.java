package org.rootling.nursery.web;

import org.rootling.platform.PdfWriter;

/** Pages put together from text, as PDF. */
final class Pdf {

    private Pdf() {}

    /** The PDF of a page; {@code css} is its style, {@code body} its content, already escaped. */
    static byte[] of(String title, String css, String body) {
        String page = "<html xmlns=\"http://www.w3.org/1999/xhtml\"><head><title>" + escape(title) + "</title><style>"
                + css + "</style></head><body>" + body + "</body></html>";
        return PdfWriter.bytes(page);
    }

    /** Text made harmless, and without characters that XML does not allow. */
    static String escape(String text) {
        StringBuilder safe = new StringBuilder(text.length() + 16);
        text.codePoints().forEach(c -> {
            switch (c) {
                case '<' -> safe.append("&lt;");
                case '>' -> safe.append("&gt;");
                case '&' -> safe.append("&amp;");
                case '"' -> safe.append("&quot;");
                default -> {
                    boolean control = c < 0x20 && c != '\t' && c != '\n';
                    if (!control && c != 0xFFFE && c != 0xFFFF) {
                        safe.appendCodePoint(c);
                    }
                }
            }
        });
        return safe.toString();
    }
}
