package org.rootling.nursery.domain;

import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import java.time.LocalDate;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.NewDeliveryLine;
import org.rootling.nursery.Stock.Passport;
import org.rootling.nursery.VineColour;
import org.rootling.nursery.calc.LotCode;
import org.rootling.platform.VineyardRow;

/** A nursery lot as it is kept: what it is and its papers. How many there are is in the ledger. */
@Entity
@Table(name = "lot")
class LotRow extends VineyardRow {

    private String code;
    private int seriesYear;
    private int seriesNo;
    private UUID deliveryLineId;
    private @Nullable UUID splitFrom;
    private String variety;

    @Enumerated(EnumType.STRING)
    private VineColour colour;

    private @Nullable String cloneName;
    private String rootstock;
    private LocalDate receivedOn;
    private @Nullable String passportBotanical;
    private @Nullable String passportRegistration;
    private @Nullable String passportTrace;
    private @Nullable String passportOrigin;
    private @Nullable String passportExtra;
    private @Nullable String note;

    @SuppressWarnings("NullAway.Init")
    protected LotRow() {}

    String code() {
        return code;
    }

    int seriesYear() {
        return seriesYear;
    }

    int seriesNo() {
        return seriesNo;
    }

    UUID deliveryLineId() {
        return deliveryLineId;
    }

    @Nullable
    UUID splitFrom() {
        return splitFrom;
    }

    String variety() {
        return variety;
    }

    VineColour colour() {
        return colour;
    }

    @Nullable
    String cloneName() {
        return cloneName;
    }

    String rootstock() {
        return rootstock;
    }

    LocalDate receivedOn() {
        return receivedOn;
    }

    @Nullable
    String passportBotanical() {
        return passportBotanical;
    }

    @Nullable
    String passportRegistration() {
        return passportRegistration;
    }

    @Nullable
    String passportTrace() {
        return passportTrace;
    }

    @Nullable
    String passportOrigin() {
        return passportOrigin;
    }

    @Nullable
    String passportExtra() {
        return passportExtra;
    }

    @Nullable
    String note() {
        return note;
    }

    LotRow(int year, int number, UUID deliveryLineId, NewDeliveryLine from, VineColour colour, LocalDate receivedOn) {
        this.code = LotCode.of(year, number);
        this.seriesYear = year;
        this.seriesNo = number;
        this.deliveryLineId = deliveryLineId;
        this.variety = from.variety().strip();
        this.colour = colour;
        this.cloneName = Texts.orNull(from.cloneName());
        this.rootstock = from.rootstock().strip();
        this.receivedOn = receivedOn;
        papers(from.passport());
    }

    /** A part of a lot under its own code; origin and papers stay the same. */
    LotRow(int year, int number, LotRow parent) {
        this.code = LotCode.of(year, number);
        this.seriesYear = year;
        this.seriesNo = number;
        this.deliveryLineId = parent.deliveryLineId;
        this.splitFrom = parent.getId();
        this.variety = parent.variety;
        this.colour = parent.colour;
        this.cloneName = parent.cloneName;
        this.rootstock = parent.rootstock;
        this.receivedOn = parent.receivedOn;
        this.passportBotanical = parent.passportBotanical;
        this.passportRegistration = parent.passportRegistration;
        this.passportTrace = parent.passportTrace;
        this.passportOrigin = parent.passportOrigin;
        this.passportExtra = parent.passportExtra;
    }

    final void papers(Passport passport) {
        this.passportBotanical = Texts.orNull(passport.botanical());
        this.passportRegistration = Texts.orNull(passport.registration());
        this.passportTrace = Texts.orNull(passport.trace());
        this.passportOrigin = Texts.orNull(passport.origin());
        this.passportExtra = Texts.orNull(passport.extra());
    }

    void remark(@Nullable String text) {
        this.note = Texts.orNull(text);
    }
}
