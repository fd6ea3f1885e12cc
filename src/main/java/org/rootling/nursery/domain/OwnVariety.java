package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.VineColour;
import org.rootling.platform.VineyardRow;

/** A variety that the vineyard added to the published list. */
@Entity
@Table(name = "own_variety")
class OwnVariety extends VineyardRow {

    private String name;

    @Enumerated(EnumType.STRING)
    private VineColour colour;

    private @Nullable String note;
    private @Nullable Instant withdrawnAt;

    @SuppressWarnings("NullAway.Init")
    protected OwnVariety() {}

    String name() {
        return name;
    }

    VineColour colour() {
        return colour;
    }

    @Nullable
    String note() {
        return note;
    }

    @Nullable
    Instant withdrawnAt() {
        return withdrawnAt;
    }

    OwnVariety(String name, VineColour colour, @Nullable String note) {
        this.name = name.strip();
        this.colour = colour;
        this.note = Texts.orNull(note);
    }
}
