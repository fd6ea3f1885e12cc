package org.rootling.nursery;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** What is done with planting stock before it is planted. Every call is one transaction, all or nothing. */
public interface Stock {

    /** A nursery that vines are bought from; {@code country} is an ISO 3166 two-letter code. */
    record NewSupplier(
            String name,
            @Nullable String registrationNo,
            @Nullable String country,
            @Nullable String contact,
            int bundleSize) {}

    /** A line of an order; {@code expectedWeek} is any day of the week in which the vines should come. */
    record NewOrderLine(
            String variety,
            @Nullable String cloneName,
            String rootstock,
            int vines,
            @Nullable BigDecimal priceEach,
            @Nullable LocalDate expectedWeek) {}

    /** An order; {@code currency} is an ISO 4217 code. */
    record NewOrder(
            UUID supplierId,
            String reference,
            LocalDate orderedOn,
            String currency,
            @Nullable String note,
            List<NewOrderLine> lines) {}

    /** What a look at the vines showed. */
    enum Found {
        GOOD,
        DOUBTFUL,
        BAD,
        NOT_LOOKED
    }

    /** The arrival check of a delivery line. */
    record ArrivalCheck(Found roots, Found graft, Found wax, Found mould, Found dryness, Found label) {

        /** All found good. */
        public static final ArrivalCheck ALL_GOOD =
                new ArrivalCheck(Found.GOOD, Found.GOOD, Found.GOOD, Found.GOOD, Found.GOOD, Found.GOOD);
    }

    /**
     * Parts of a plant passport.
     *
     * @param botanical part A, botanical name
     * @param registration part B, country code and registration number of the operator
     * @param trace part C, traceability code
     * @param origin part D, country of origin
     * @param extra what the jurisdiction adds
     */
    record Passport(
            @Nullable String botanical,
            @Nullable String registration,
            @Nullable String trace,
            @Nullable String origin,
            @Nullable String extra) {

        /** Nothing known. */
        public static final Passport UNKNOWN = new Passport(null, null, null, null, null);
    }

    /**
     * A line of a delivery: bundles × size + loose vines of one kind.
     *
     * @param orderLineId the order line it answers, null without
     * @param billed how many the papers say, null if not told
     * @param rejected how many were refused on arrival, with a reason
     */
    record NewDeliveryLine(
            @Nullable UUID orderLineId,
            String variety,
            @Nullable String cloneName,
            String rootstock,
            int bundles,
            int bundleSize,
            int loose,
            @Nullable Integer billed,
            int rejected,
            @Nullable String rejectReason,
            ArrivalCheck check,
            Passport passport) {}

    /** A delivery; {@code daysInTransit} counts as waiting in the hold clock. */
    record NewDelivery(
            UUID supplierId,
            @Nullable UUID orderId,
            LocalDate receivedOn,
            @Nullable Integer daysInTransit,
            @Nullable String deliveryNoteNo,
            @Nullable String invoiceNo,
            @Nullable String note,
            List<NewDeliveryLine> lines) {}

    /**
     * A bed or store.
     *
     * @param capacity vines it takes, null if not limited
     * @param setTemperatureC for a cold store, °C
     * @param soil for a bed, a soil of {@code soils.csv}
     * @param eastM where it lies on the block's plan, metres, with {@code northM}
     * @param blockId the block on whose plan it is drawn
     */
    record NewStore(
            String name,
            StoreKind kind,
            @Nullable Integer capacity,
            @Nullable Double setTemperatureC,
            @Nullable String soil,
            @Nullable String whereItIs,
            @Nullable Double eastM,
            @Nullable Double northM,
            @Nullable UUID blockId) {

        /** One that is on no block's plan. */
        public NewStore(
                String name,
                StoreKind kind,
                @Nullable Integer capacity,
                @Nullable Double setTemperatureC,
                @Nullable String soil,
                @Nullable String whereItIs,
                @Nullable Double eastM,
                @Nullable Double northM) {
            this(name, kind, capacity, setTemperatureC, soil, whereItIs, eastM, northM, null);
        }
    }

    UUID addSupplier(NewSupplier supplier);

    UUID order(NewOrder order);

    /** The lines of an order, as they stand in it. */
    List<UUID> orderLines(UUID order);

    /** Takes a delivery in; each line becomes a lot with its own code. */
    List<Lot> receive(NewDelivery delivery);

    UUID addStore(NewStore store);

    /** Puts vines that stand nowhere yet (then lifted ones) into a store; returns the hold. */
    UUID place(UUID lotId, UUID storeId, int count, LocalDate on);

    /** Moves vines from one store to another; returns the new hold. What they have waited goes with them. */
    UUID move(UUID holdId, UUID storeId, int count, LocalDate on);

    /** Lifts vines for planting. */
    void lift(UUID holdId, int count, LocalDate on);

    /** Logs a watering of a whole store; {@code mm} null counts as filled up. */
    UUID water(UUID storeId, LocalDate on, @Nullable Double mm);
}
