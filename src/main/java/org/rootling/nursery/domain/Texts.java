package org.rootling.nursery.domain;

import org.jspecify.annotations.Nullable;

/** Free text as it is kept: without blanks around it, and null when there is none. */
final class Texts {

    private Texts() {}

    static @Nullable String orNull(@Nullable String text) {
        return text == null || text.isBlank() ? null : text.strip();
    }
}
