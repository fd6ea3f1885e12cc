package org.rootling.platform;

import jakarta.persistence.Column;
import jakarta.persistence.Id;
import jakarta.persistence.MappedSuperclass;
import jakarta.persistence.PostLoad;
import jakarta.persistence.PostPersist;
import jakarta.persistence.Transient;
import jakarta.persistence.Version;
import java.util.UUID;
import org.springframework.data.domain.Persistable;

/** A row that belongs to a vineyard: its id, its vineyard, and the version that guards against stale edits. */
@MappedSuperclass
public abstract class VineyardRow implements Persistable<UUID> {

    @Id
    private UUID id = Ids.next();

    @Column(updatable = false)
    private UUID vineyardId = Tenancy.vineyardOrNull() == null ? new UUID(0, 0) : Tenancy.require();

    @Version
    private int version;

    @Transient
    private boolean stored;

    protected VineyardRow() {}

    @Override
    public UUID getId() {
        return id;
    }

    public UUID vineyardId() {
        return vineyardId;
    }

    public int version() {
        return version;
    }

    /** Refuses an edit that was begun from an older version. */
    public void requireVersion(int expected) {
        if (version != expected) {
            throw new Stale(expected, version);
        }
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
}
