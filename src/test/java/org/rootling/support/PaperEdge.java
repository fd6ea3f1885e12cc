package org.rootling.support;

import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.apache.pdfbox.text.TextPosition;

/** Finds what a printer would cut off: signs of upright text that reach into the right margin of their sheet. */
public final class PaperEdge extends PDFTextStripper {

    /** Half of the margin that our style sheet leaves (14 mm), in points. */
    private static final float HALF_MARGIN = 20;

    private final List<String> beyond = new ArrayList<>();

    private PaperEdge() {}

    /** Those signs, each with its sheet. */
    public static List<String> beyond(PDDocument document) throws IOException {
        PaperEdge edge = new PaperEdge();
        edge.getText(document);
        return edge.beyond;
    }

    @Override
    protected void processTextPosition(TextPosition sign) {
        boolean upright = sign.getDir() == 0;
        if (upright
                && !sign.getUnicode().isBlank()
                && sign.getX() + sign.getWidth() > sign.getPageWidth() - HALF_MARGIN) {
            beyond.add(getCurrentPageNo() + ": " + sign.getUnicode());
        }
        super.processTextPosition(sign);
    }
}
