package org.rootling.nursery.web;

import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;

/** What a form cannot do without. */
final class Needed {

    private Needed() {}

    /** The value, or a refusal beside its field. */
    static <T> T of(@Nullable T value, String field) {
        if (value == null) {
            throw new Refused("nursery.form.needed").at(field);
        }
        return value;
    }
}
