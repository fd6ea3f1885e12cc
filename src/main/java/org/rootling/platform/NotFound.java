package org.rootling.platform;

/** There is no such thing in this vineyard. */
public class NotFound extends RuntimeException {

    public NotFound(String what) {
        super(what);
    }
}
