package org.rootling.people.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.Id;
import jakarta.persistence.PostLoad;
import jakarta.persistence.PostPersist;
import jakarta.persistence.Transient;
import jakarta.persistence.Version;
import java.util.UUID;
import org.springframework.data.domain.Persistable;

/** One person, in as many vineyards as they belong to. */
@Entity
class Account implements Persistable<UUID> {

    @Id
    private UUID id;

    private String email;
    private String name;
    private String passwordHash;
    private String locale;
    private String units;
    private boolean contrast;

    @Version
    private int version;

    @Transient
    private boolean stored;

    @SuppressWarnings("NullAway.Init")
    protected Account() {}

    Account(UUID id, String email, String name, String passwordHash) {
        this.id = id;
        this.email = email;
        this.name = name;
        this.passwordHash = passwordHash;
        this.locale = "auto";
        this.units = "metric";
    }

    @Override
    public UUID getId() {
        return id;
    }

    @Override
    public boolean isNew() {
        return !stored;
    }

    @PostLoad
    @PostPersist
    void markStored() {
        stored = true;
    }

    String email() {
        return email;
    }

    String name() {
        return name;
    }

    String passwordHash() {
        return passwordHash;
    }

    String locale() {
        return locale;
    }

    String units() {
        return units;
    }

    boolean contrast() {
        return contrast;
    }

    void present(String newName, String newLocale, String newUnits, boolean newContrast) {
        this.name = newName;
        this.locale = newLocale;
        this.units = newUnits;
        this.contrast = newContrast;
    }

    void changePassword(String hash) {
        this.passwordHash = hash;
    }
}
