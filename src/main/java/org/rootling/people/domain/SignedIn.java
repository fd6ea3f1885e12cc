package org.rootling.people.domain;

import java.util.Collection;
import java.util.List;
import java.util.UUID;
import org.springframework.security.core.CredentialsContainer;
import org.springframework.security.core.GrantedAuthority;
import org.springframework.security.core.userdetails.UserDetails;

/** Who is signed in, as kept in the session. */
public final class SignedIn implements UserDetails, CredentialsContainer {

    private static final long serialVersionUID = 1L;

    private final UUID accountId;
    private final String email;
    private final String name;
    private final boolean guest;
    private String passwordHash;

    SignedIn(UUID accountId, String email, String name, String passwordHash) {
        this(accountId, email, name, passwordHash, false);
    }

    private SignedIn(UUID accountId, String email, String name, String passwordHash, boolean guest) {
        this.accountId = accountId;
        this.email = email;
        this.name = name;
        this.passwordHash = passwordHash;
        this.guest = guest;
    }

    /** Somebody whose phone was signed in by a day link. */
    static SignedIn guest(UUID accountId, String email, String name) {
        return new SignedIn(accountId, email, name, "", true);
    }

    public UUID accountId() {
        return accountId;
    }

    public String name() {
        return name;
    }

    /** Whether they have no account of their own: then they are helper of one vineyard, and nothing else. */
    public boolean guest() {
        return guest;
    }

    @Override
    public Collection<? extends GrantedAuthority> getAuthorities() {
        return List.of();
    }

    @Override
    public String getPassword() {
        return passwordHash;
    }

    @Override
    public String getUsername() {
        return email;
    }

    @Override
    public void eraseCredentials() {
        passwordHash = "";
    }
}
