package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.Table;
import java.time.Instant;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.NewSupplier;
import org.rootling.platform.VineyardRow;

/** A nursery that vines are bought from. */
@Entity
@Table(name = "supplier")
class Supplier extends VineyardRow {

    private String name;
    private @Nullable String registrationNo;
    private @Nullable String country;
    private @Nullable String contact;
    private int bundleSize;
    private @Nullable Instant withdrawnAt;

    @SuppressWarnings("NullAway.Init")
    protected Supplier() {}

    String name() {
        return name;
    }

    @Nullable
    String registrationNo() {
        return registrationNo;
    }

    @Nullable
    String country() {
        return country;
    }

    @Nullable
    String contact() {
        return contact;
    }

    int bundleSize() {
        return bundleSize;
    }

    @Nullable
    Instant withdrawnAt() {
        return withdrawnAt;
    }

    Supplier(NewSupplier from) {
        describe(from);
    }

    final void describe(NewSupplier from) {
        this.name = from.name().strip();
        this.registrationNo = Texts.orNull(from.registrationNo());
        this.country = Texts.orNull(from.country());
        this.contact = Texts.orNull(from.contact());
        this.bundleSize = from.bundleSize();
    }

    void withdraw(Instant now) {
        this.withdrawnAt = now;
    }
}
