package org.rootling.people.domain;

import org.springframework.security.authentication.AccountStatusException;

/** The password was right, and a code is needed before anything opens. */
public final class SecondFactorNeeded extends AccountStatusException {

    private static final long serialVersionUID = 1L;

    private final transient SignedIn person;

    public SecondFactorNeeded(SignedIn person) {
        super("a code is needed");
        this.person = person;
    }

    public SignedIn person() {
        return person;
    }
}
