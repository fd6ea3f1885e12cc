package org.rootling.people.domain;

import java.util.UUID;

/** Lets tests sign people in without typing a password. */
public final class TestPeople {

    private TestPeople() {}

    public static SignedIn signedIn(UUID account, String email, String name) {
        return new SignedIn(account, email, name, "");
    }
}
