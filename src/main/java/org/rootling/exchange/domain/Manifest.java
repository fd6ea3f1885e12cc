package org.rootling.exchange.domain;

import java.util.List;
import org.jspecify.annotations.Nullable;

/**
 * What an archive says of itself, in {@code manifest.json}.
 *
 * @param format always {@link #FORMAT}
 * @param version of the archive's layout
 * @param schema of the database it was taken from
 * @param madeAt instant
 */
record Manifest(String format, int version, String schema, String madeAt, Place vineyard, List<Entry> files) {

    static final String FORMAT = "rootling-archive";
    static final int VERSION = 1;
    static final String FILE = "manifest.json";

    /** The vineyard it is of. Degrees north and east, metres above the sea. */
    record Place(
            String id,
            String name,
            String zone,
            @Nullable Double latitude,
            @Nullable Double longitude,
            @Nullable Double altitudeM) {}

    /**
     * A file of it.
     *
     * @param rows records under the heading; 0 for what is not CSV
     * @param bytes unpacked
     * @param sha256 of the unpacked bytes, in hex
     */
    record Entry(String name, long rows, long bytes, String sha256) {}

    Manifest {
        files = files == null ? List.of() : List.copyOf(files);
    }
}
