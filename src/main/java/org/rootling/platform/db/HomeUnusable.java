package org.rootling.platform.db;

/** The application's folder cannot be used; the message says why and what to do. */
public class HomeUnusable extends RuntimeException {

    HomeUnusable(String message) {
        super(message);
    }
}
