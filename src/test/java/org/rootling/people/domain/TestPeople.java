package org.rootling.people.domain;

import java.util.UUID;

/** Lets tests sign people in without typing a password. */
public final class TestPeople {

    private TestPeople() {}

    public static SignedIn signedIn(UUID account, String email, String name) {
        return new SignedIn(account, email, name, "");
    }

    /** Somebody whose phone was signed in by a day link. */
    public static SignedIn guest(UUID account, String name) {
        return SignedIn.guest(account, account + "@guest.invalid", name);
    }
}
