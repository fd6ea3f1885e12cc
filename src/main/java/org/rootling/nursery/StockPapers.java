package org.rootling.nursery;

import java.util.UUID;

/** Photos and PDFs of labels and papers that came with stock. */
public interface StockPapers {

    /**
     * Keeps a photo or PDF of a lot's label.
     *
     * @throws org.rootling.platform.Refused if it is neither or too large
     */
    void keepLabel(UUID lotId, byte[] photoOrPaper);
}
