package org.rootling.platform;

import org.jspecify.annotations.Nullable;

/**
 * Something that was asked for is not allowed or makes no sense. Carries a message key and its arguments, and where known
 * the form field it belongs to; page, API and offline sync show the same answer.
 */
public class Refused extends RuntimeException {

    private final String key;
    private final transient @Nullable Object[] args;
    private @Nullable String field;

    public Refused(String key, @Nullable Object... args) {
        super(key);
        this.key = key;
        this.args = args.clone();
    }

    /** Names the form field that the refusal belongs to. */
    public Refused at(String fieldName) {
        this.field = fieldName;
        return this;
    }

    public String key() {
        return key;
    }

    public @Nullable Object[] args() {
        return args.clone();
    }

    public @Nullable String field() {
        return field;
    }
}
