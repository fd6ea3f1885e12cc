package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Level;
import org.rootling.platform.Refused;
import org.rootling.platform.VineyardRow;

/** A warning that a hold runs short, for one allowance; raised once, escalated, taken over, closed by what happened. */
@Entity
@Table(name = "hold_warning")
class HoldWarning extends VineyardRow {

    private UUID holdId;
    private String allowance;
    private String level;
    private LocalDate raisedOn;
    private @Nullable LocalDate escalatedOn;
    private @Nullable LocalDate runsOutOn;
    private @Nullable UUID takenBy;
    private @Nullable LocalDate takenOn;
    private @Nullable String takenNote;
    private @Nullable LocalDate closedOn;
    private @Nullable String closedBy;

    @SuppressWarnings("NullAway.Init")
    protected HoldWarning() {}

    UUID holdId() {
        return holdId;
    }

    String allowance() {
        return allowance;
    }

    String level() {
        return level;
    }

    LocalDate raisedOn() {
        return raisedOn;
    }

    @Nullable
    LocalDate escalatedOn() {
        return escalatedOn;
    }

    @Nullable
    LocalDate runsOutOn() {
        return runsOutOn;
    }

    @Nullable
    UUID takenBy() {
        return takenBy;
    }

    @Nullable
    LocalDate takenOn() {
        return takenOn;
    }

    @Nullable
    String takenNote() {
        return takenNote;
    }

    @Nullable
    LocalDate closedOn() {
        return closedOn;
    }

    @Nullable
    String closedBy() {
        return closedBy;
    }

    HoldWarning(UUID holdId, String allowance, Level level, LocalDate raisedOn, @Nullable LocalDate runsOutOn) {
        this.holdId = holdId;
        this.allowance = allowance;
        this.level = level.name();
        this.raisedOn = raisedOn;
        this.runsOutOn = runsOutOn;
    }

    /** Takes over what the clock says today; true if that is more pressing than before. */
    boolean follow(Level now, @Nullable LocalDate newRunsOutOn, LocalDate today) {
        this.runsOutOn = newRunsOutOn;
        Level before = Level.valueOf(level);
        this.level = now.name();
        if (now.compareTo(before) > 0) {
            this.escalatedOn = today;
            return true;
        }
        return false;
    }

    void takeOver(UUID account, LocalDate today, @Nullable String note) {
        if (closedOn != null) {
            throw new Refused("nursery.warning.closed");
        }
        this.takenBy = account;
        this.takenOn = today;
        this.takenNote = Texts.orNull(note);
    }

    void close(LocalDate today, String by) {
        this.closedOn = today;
        this.closedBy = by;
    }
}
