package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.VineyardRow;

/** A rootstock that the vineyard added to the published list. */
@Entity
@Table(name = "own_rootstock")
class OwnRootstock extends VineyardRow {

    private String name;
    private @Nullable String note;
    private @Nullable Instant withdrawnAt;

    @SuppressWarnings("NullAway.Init")
    protected OwnRootstock() {}

    String name() {
        return name;
    }

    @Nullable
    String note() {
        return note;
    }

    @Nullable
    Instant withdrawnAt() {
        return withdrawnAt;
    }

    OwnRootstock(String name, @Nullable String note) {
        this.name = name.strip();
        this.note = Texts.orNull(note);
    }
}
