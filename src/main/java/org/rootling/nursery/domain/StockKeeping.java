package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.time.Instant;
import java.time.LocalDate;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.NewStore;
import org.rootling.nursery.Stock.Passport;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.VineColour;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The rarer work on stock: losses, returns, stocktakes, splitting, taking back, papers, settings. */
@Service
@Transactional
public class StockKeeping {

    private final Ledger ledger;
    private final LotRows lots;
    private final HoldRows holds;
    private final StoreRows stores;
    private final WateringRows waterings;
    private final OwnVarieties ownVarieties;
    private final OwnRootstocks ownRootstocks;
    private final StoreLimits limits;
    private final ReferenceLists lists;
    private final WarningDesk warnings;
    private final Vineyards vineyards;
    private final LotSeries series;
    private final JdbcClient jdbc;

    StockKeeping(
            Ledger ledger,
            LotRows lots,
            HoldRows holds,
            StoreRows stores,
            WateringRows waterings,
            OwnVarieties ownVarieties,
            OwnRootstocks ownRootstocks,
            StoreLimits limits,
            ReferenceLists lists,
            WarningDesk warnings,
            Vineyards vineyards,
            LotSeries series,
            JdbcClient jdbc) {
        this.ledger = ledger;
        this.lots = lots;
        this.holds = holds;
        this.stores = stores;
        this.waterings = waterings;
        this.ownVarieties = ownVarieties;
        this.ownRootstocks = ownRootstocks;
        this.limits = limits;
        this.lists = lists;
        this.warnings = warnings;
        this.vineyards = vineyards;
        this.series = series;
        this.jdbc = jdbc;
    }

    /** Takes a movement back by one in the other direction, dated today. */
    public void undo(UUID lotId, UUID movementId) {
        ledger.lock(lotId);
        Movement wrong = ledger.movement(movementId);
        if (!wrong.lotId().equals(lotId)) {
            throw new NotFound("movement");
        }
        if (!wrong.kind().canBeUndone()) {
            throw new Refused("nursery.undo.not-here");
        }
        if (wrong.answered()) {
            throw new Refused("nursery.ledger.already-undone");
        }
        ledger.answer(wrong, vineyards.today());
        warnings.closeEmptied(lotId);
    }

    /** Books vines out that will not be planted: lost, returned to the nursery or rejected after all. */
    public void takeOut(UUID lotId, Spot from, MovementKind why, int count, LocalDate on, @Nullable String reason) {
        StockRules.requireCount(count);
        Spot to = switch (why) {
            case LOST -> Spot.LOST;
            case RETURNED -> Spot.RETURNED;
            case REJECTED -> Spot.REJECTED;
            default -> throw new IllegalArgumentException("not a way out: " + why);
        };
        ledger.lock(lotId);
        requireDay(lotId, from, on);
        ledger.book(lotId, why, count, on, from, to, requireReason(reason), null);
        warnings.closeEmptied(lotId);
    }

    /**
     * A stocktake of one place where vines of a lot stand: books the difference to what the ledger says. More than
     * expected are taken from those booked as lost, then from outside.
     *
     * @return how many more (or, below zero, fewer) were found than the ledger said
     */
    public int count(UUID lotId, Spot where, int counted, LocalDate on, @Nullable String reason) {
        if (counted < 0 || counted > 1_000_000) {
            throw new Refused("nursery.count.not-below-zero").at("count");
        }
        if (!where.account().isWaiting()) {
            throw new NotFound("place of counting");
        }
        ledger.lock(lotId);
        requireDay(lotId, where, on);
        Map<Spot, Integer> balance = ledger.balance(lotId, on);
        int expected = balance.getOrDefault(where, 0);
        int difference = counted - expected;
        if (difference != 0) {
            String why = requireReason(reason);
            if (difference < 0) {
                ledger.book(lotId, MovementKind.COUNTED, -difference, on, where, Spot.LOST, why, null);
            } else {
                int found = Math.min(difference, balance.getOrDefault(Spot.LOST, 0));
                if (found > 0) {
                    ledger.book(lotId, MovementKind.FOUND, found, on, Spot.LOST, where, why, null);
                }
                if (difference > found) {
                    ledger.book(lotId, MovementKind.COUNTED, difference - found, on, Spot.OUTSIDE, where, why, null);
                }
            }
        }
        jdbc.sql("""
                        insert into stocktake (id, lot_id, account, hold_id, on_day, expected, counted, reason)
                        values (:id, :lot, :account, cast(:hold as uuid), :on, :expected, :counted, :reason)
                        """)
                .param("id", Ids.next())
                .param("lot", lotId)
                .param("account", where.account().name())
                .param("hold", where.hold())
                .param("on", on)
                .param("expected", expected)
                .param("counted", counted)
                .param("reason", Texts.orNull(reason))
                .update();
        warnings.closeEmptied(lotId);
        return difference;
    }

    /** Gives a part of a lot its own code; origin, papers and waiting time go with it. */
    public UUID split(UUID lotId, Spot from, int count, LocalDate on) {
        StockRules.requireCount(count);
        ledger.lock(lotId);
        requireDay(lotId, from, on);
        LotRow parent = lot(lotId);
        int there = ledger.balance(lotId).getOrDefault(from, 0);
        if (count > there) {
            throw new Refused("nursery.ledger.too-many", count, there).at("count");
        }
        int year = parent.seriesYear();
        LotRow part = lots.saveAndFlush(new LotRow(year, series.next(year), parent));
        carry(parent, part, from, count, on, part.code());
        return part.getId();
    }

    /** Puts all that still waits of a lot back under the code of another that came with it. */
    public void join(UUID lotId, UUID intoId, LocalDate on) {
        if (lotId.equals(intoId)) {
            throw new Refused("nursery.join.same-lot").at("into");
        }
        // Always in the same order, so that two people joining both ways do not wait for each other for ever.
        List.of(lotId, intoId).stream().sorted().forEach(ledger::lock);
        LotRow from = lot(lotId);
        LotRow into = lot(intoId);
        if (!from.deliveryLineId().equals(into.deliveryLineId())) {
            throw new Refused("nursery.join.other-origin", from.code(), into.code()).at("into");
        }
        Map<Spot, Integer> balance = new HashMap<>(ledger.balance(lotId));
        balance.entrySet().removeIf(e -> !e.getKey().account().isWaiting() || e.getValue() == 0);
        if (balance.isEmpty()) {
            throw new Refused("nursery.join.nothing", from.code()).at("into");
        }
        balance.keySet().forEach(spot -> requireDay(lotId, spot, on));
        balance.forEach((spot, count) -> carry(from, into, spot, count, on, into.code()));
        warnings.closeEmptied(lotId);
    }

    private void carry(LotRow from, LotRow to, Spot spot, int count, LocalDate on, String code) {
        UUID pair = Ids.next();
        Spot there = spot;
        if (spot.hold() != null) {
            HoldRow hold = holds.findById(spot.hold()).orElseThrow();
            there = Spot.hold(holds.saveAndFlush(new HoldRow(to.getId(), hold.storeId(), hold.since(), hold.cameFrom()))
                    .getId());
        }
        ledger.book(from.getId(), MovementKind.SPLIT_OFF, count, on, spot, Spot.SPLIT, code, pair);
        ledger.book(to.getId(), MovementKind.SPLIT_IN, count, on, Spot.OUTSIDE, there, from.code(), pair);
    }

    /** Corrects a lot's papers and remark. */
    public void papers(UUID lotId, int version, Passport passport, @Nullable String note) {
        LotRow lot = lot(lotId);
        lot.requireVersion(version);
        lot.papers(passport);
        lot.remark(note);
        lots.flush();
    }

    /** Describes a store anew. */
    public void change(UUID storeId, int version, NewStore to) {
        StoreRow store = stores.findById(storeId).orElseThrow(() -> new NotFound("store"));
        store.requireVersion(version);
        boolean taken = stores.findAllByWithdrawnAtIsNullOrderByName().stream()
                .anyMatch(s -> !s.getId().equals(storeId)
                        && s.name().equalsIgnoreCase(to.name().strip()));
        if (taken) {
            throw new Refused("nursery.store.name-taken", to.name().strip()).at("name");
        }
        store.describe(to);
        stores.flush();
    }

    /** Takes an empty store out of use. */
    public void withdrawStore(UUID storeId, int version) {
        StoreRow store = stores.findById(storeId).orElseThrow(() -> new NotFound("store"));
        store.requireVersion(version);
        int standing = jdbc.sql("""
                        select coalesce(sum(b.count), 0) from hold h
                          join lot_balance b on b.vineyard_id = h.vineyard_id and b.hold_id = h.id and b.account = 'HOLD'
                         where h.store_id = :id
                        """).param("id", storeId).query(Integer.class).single();
        if (standing > 0) {
            throw new Refused("nursery.store.not-empty", store.name(), standing);
        }
        store.withdraw(now());
        stores.flush();
    }

    /** Takes a wrongly logged watering back. */
    public void withdrawWatering(UUID id) {
        waterings.findById(id).orElseThrow(() -> new NotFound("watering")).withdraw(now());
        waterings.flush();
    }

    /** Sets a limit of a kind of store, with where the figure comes from. */
    public void setLimit(
            StoreKind kind,
            String allowance,
            int version,
            @Nullable BigDecimal warnAt,
            BigDecimal value,
            String source) {
        ReferenceLists.Limit published = lists.published(kind, allowance).orElseThrow(() -> new NotFound("limit"));
        StockRules.requireLimit(published, warnAt, value);
        StoreLimit mine = limits.findByKindAndAllowance(kind, allowance).orElse(null);
        if (mine == null) {
            if (version >= 0) {
                throw new NotFound("limit");
            }
            limits.saveAndFlush(
                    new StoreLimit(kind, allowance, published.warnAt() == null ? null : warnAt, value, source));
        } else {
            mine.requireVersion(version);
            mine.set(published.warnAt() == null ? null : warnAt, value, source);
            limits.flush();
        }
    }

    /** Adds a variety to the vineyard's list. */
    public void addVariety(String name, VineColour colour, @Nullable String note) {
        if (lists.colour(name).isPresent()) {
            throw new Refused("nursery.list.name-taken", name.strip()).at("name");
        }
        ownVarieties.saveAndFlush(new OwnVariety(name, colour, note));
    }

    /** Adds a rootstock to the vineyard's list. */
    public void addRootstock(String name, @Nullable String note) {
        if (lists.rootstocks().stream().anyMatch(r -> r.name().equalsIgnoreCase(name.strip()))) {
            throw new Refused("nursery.list.name-taken", name.strip()).at("name");
        }
        ownRootstocks.saveAndFlush(new OwnRootstock(name, note));
    }

    private LotRow lot(UUID id) {
        return lots.findById(id).orElseThrow(() -> new NotFound("lot"));
    }

    private void requireDay(UUID lotId, Spot spot, LocalDate on) {
        LotRow lot = lot(lotId);
        StockRules.requireDay(lot, on, vineyards.today());
        if (spot.hold() != null) {
            HoldRow hold = holds.findById(spot.hold()).orElseThrow(() -> new NotFound("hold"));
            if (!hold.lotId().equals(lotId)) {
                throw new NotFound("hold");
            }
            StockRules.requireDay(hold, on, vineyards.today());
        }
    }

    private static String requireReason(@Nullable String reason) {
        String text = Texts.orNull(reason);
        if (text == null) {
            throw new Refused("nursery.reason.missing").at("reason");
        }
        return text;
    }

    private Instant now() {
        return vineyards.now();
    }
}
