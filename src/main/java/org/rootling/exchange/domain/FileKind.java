package org.rootling.exchange.domain;

import java.nio.charset.StandardCharsets;
import java.util.Arrays;

/** What a file is, by its first bytes, never by its name. */
enum FileKind {
    JPEG("jpg"),
    PNG("png"),
    WEBP("webp"),
    PDF("pdf"),
    OTHER("bin");

    private final String ending;

    FileKind(String ending) {
        this.ending = ending;
    }

    static FileKind of(byte[] start) {
        if (begins(start, 0xff, 0xd8, 0xff)) {
            return JPEG;
        }
        if (begins(start, 0x89, 'P', 'N', 'G', 0x0d, 0x0a, 0x1a, 0x0a)) {
            return PNG;
        }
        if (begins(start, 'R', 'I', 'F', 'F')
                && start.length >= 12
                && new String(Arrays.copyOfRange(start, 8, 12), StandardCharsets.ISO_8859_1).equals("WEBP")) {
            return WEBP;
        }
        return begins(start, '%', 'P', 'D', 'F', '-') ? PDF : OTHER;
    }

    /** Where a file stands in an archive. */
    String path(String table, String id, String column) {
        return "files/" + table + "/" + id + "-" + column + "." + ending;
    }

    private static boolean begins(byte[] start, int... with) {
        if (start.length < with.length) {
            return false;
        }
        for (int i = 0; i < with.length; i++) {
            if ((start[i] & 0xff) != with[i]) {
                return false;
            }
        }
        return true;
    }
}
