package org.rootling.nursery.web;

import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;

/** Makes PDF from strict XHTML that this program wrote itself. Nothing is ever fetched. */
final class Pdf {

    private Pdf() {}

    /** The PDF of a page; {@code css} is its style, {@code body} its content, already escaped. */
    static byte[] of(String title, String css, String body) {
        String page = "<html xmlns=\"http://www.w3.org/1999/xhtml\"><head><title>" + escape(title) + "</title><style>"
                + css + "</style></head><body>" + body + "</body></html>";
        try (ByteArrayOutputStream out = new ByteArrayOutputStream()) {
            PdfRendererBuilder builder = new PdfRendererBuilder();
            builder.useExternalResourceAccessControl(
                    (uri, type) -> false, ExternalResourceControlPriority.RUN_BEFORE_RESOLVING_URI);
            builder.useExternalResourceAccessControl(
                    (uri, type) -> false, ExternalResourceControlPriority.RUN_AFTER_RESOLVING_URI);
            builder.useSVGDrawer(new BatikSVGDrawer());
            builder.withHtmlContent(page, null);
            builder.toStream(out);
            builder.run();
            return out.toByteArray();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
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
