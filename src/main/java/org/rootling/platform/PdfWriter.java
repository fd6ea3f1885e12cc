package org.rootling.platform;

import com.openhtmltopdf.outputdevice.helper.BaseRendererBuilder.FontStyle;
import com.openhtmltopdf.outputdevice.helper.ExternalResourceControlPriority;
import com.openhtmltopdf.pdfboxout.PdfRendererBuilder;
import com.openhtmltopdf.svgsupport.BatikSVGDrawer;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.OutputStream;
import java.io.UncheckedIOException;
import java.util.Objects;

/**
 * Makes PDF from strict XHTML that this program wrote itself. Nothing outside it is ever loaded: no file, no address. The
 * font "Notebook" is there for what the PDF's own fonts cannot write.
 */
public final class PdfWriter {

    /** Comes with the PDF library (Liberation Sans, SIL Open Font License): Latin, Greek and Cyrillic. */
    private static final String FONT = "/org/apache/pdfbox/resources/ttf/LiberationSans-Regular.ttf";

    private PdfWriter() {}

    public static byte[] bytes(String page) {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try {
            write(page, out);
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
        return out.toByteArray();
    }

    public static void write(String page, OutputStream out) throws IOException {
        try (BatikSVGDrawer drawings = new BatikSVGDrawer()) {
            PdfRendererBuilder builder = new PdfRendererBuilder();
            builder.useFont(PdfWriter::font, "Notebook", 400, FontStyle.NORMAL, true);
            builder.useSVGDrawer(drawings);
            builder.useExternalResourceAccessControl(
                    (address, kind) -> false, ExternalResourceControlPriority.RUN_BEFORE_RESOLVING_URI);
            builder.useExternalResourceAccessControl(
                    (address, kind) -> false, ExternalResourceControlPriority.RUN_AFTER_RESOLVING_URI);
            builder.withHtmlContent(page, null);
            builder.toStream(out);
            builder.run();
        }
    }

    /** The font's file, for whoever draws letters where no fonts are installed. */
    public static InputStream font() {
        return Objects.requireNonNull(PdfWriter.class.getResourceAsStream(FONT), FONT);
    }
}
