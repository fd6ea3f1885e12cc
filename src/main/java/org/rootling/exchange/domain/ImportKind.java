package org.rootling.exchange.domain;

import java.util.List;

/** A kind of record that can be brought along in a table. */
interface ImportKind {

    /** Part of addresses and message keys. */
    String name();

    /** Columns it can have, in the order of the page. */
    List<String> columns();

    /** Those without which there is nothing to take. */
    List<String> needed();

    /** Lines with the same answer become one record and are taken or refused together. */
    String together(ImportLine line);

    /**
     * Takes lines that belong together. Joins the caller's transaction.
     *
     * @throws org.rootling.platform.Refused where they cannot be taken; its field is the column
     */
    void take(List<ImportLine> lines);

    /** Where what was taken can be seen, inside the vineyard. */
    String page();
}
