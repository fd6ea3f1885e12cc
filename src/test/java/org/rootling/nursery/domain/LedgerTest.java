package org.rootling.nursery.domain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.sql.Connection;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.UUID;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.TestStock;
import org.rootling.people.Vineyards;
import org.rootling.platform.Refused;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** The stock ledger on real PostgreSQL. */
@AppTest
class LedgerTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    @Autowired
    StockKeeping keeping;

    @Autowired
    Ledger ledger;

    @Autowired
    Vineyards days;

    TestVineyard vineyard;
    LocalDate today;

    @BeforeEach
    void makeVineyard() {
        vineyard = vineyards.fresh();
        today = vineyard.inside(() -> days.today());
    }

    private Lot received(int count) {
        return vineyard.inside(() -> TestStock.lot(stock, count, today.minusDays(40)));
    }

    private Lot now(Lot lot) {
        return vineyard.inside(() -> lots.byId(lot.id()).orElseThrow());
    }

    @Test
    void everyStepKeepsTheSum() {
        Lot lot = received(140);
        assertThat(lot.code()).matches("\\d\\d-A");
        assertThat(lot.balance()).isEqualTo(140);
        vineyard.run(() -> {
            UUID bed = TestStock.store(stock, StoreKind.HEELED_IN);
            UUID cold = TestStock.store(stock, StoreKind.COLD_STORE);
            UUID first = stock.place(lot.id(), bed, 100, today.minusDays(30));
            UUID second = stock.place(lot.id(), cold, 40, today.minusDays(30));
            stock.lift(first, 30, today.minusDays(3));
            stock.move(second, bed, 10, today.minusDays(2));
            lots.plant(lot.id(), 25, today, UUID.randomUUID());
        });
        Lot after = now(lot);
        assertThat(after.unplaced()).isZero();
        assertThat(after.lifted()).isEqualTo(5);
        assertThat(after.held()).isEqualTo(110);
        assertThat(after.planted()).isEqualTo(25);
        assertThat(after.balance()).isEqualTo(115);
        assertThat(after.count()).isEqualTo(140);
        assertThat(vineyard.<Integer>inside(() -> ledger.differences())).isZero();
    }

    @Test
    void twoPeopleLiftingTheSameLastVinesCannotBothSucceed() throws Exception {
        Lot lot = received(50);
        UUID hold = vineyard.inside(
                () -> stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 50, today.minusDays(9)));
        CyclicBarrier together = new CyclicBarrier(2);
        ExecutorService two = Executors.newFixedThreadPool(2);
        try {
            List<Future<Boolean>> lifts = new ArrayList<>();
            for (int i = 0; i < 2; i++) {
                lifts.add(two.submit(() -> {
                    together.await();
                    try {
                        vineyard.run(() -> stock.lift(hold, 30, today));
                        return true;
                    } catch (Refused refused) {
                        assertThat(refused.key()).isEqualTo("nursery.ledger.too-many");
                        assertThat(refused.args()).containsExactly(30, 20);
                        assertThat(refused.field()).isEqualTo("count");
                        return false;
                    }
                }));
            }
            assertThat(List.of(lifts.get(0).get(), lifts.get(1).get())).containsExactlyInAnyOrder(true, false);
        } finally {
            two.shutdown();
        }
        assertThat(now(lot).lifted()).isEqualTo(30);
        assertThat(now(lot).held()).isEqualTo(20);
    }

    @Test
    void plantingTakesLiftedThenUnplacedThenWhatRunsOutSoonest() {
        Lot lot = received(100);
        UUID reference = UUID.randomUUID();
        UUID[] holds = new UUID[2];
        vineyard.run(() -> {
            UUID bed = TestStock.store(stock, StoreKind.HEELED_IN);
            holds[0] = stock.place(lot.id(), bed, 30, today.minusDays(5));
            holds[1] = stock.place(lot.id(), bed, 30, today.minusDays(20));
            stock.water(bed, today, null);
            stock.lift(holds[0], 10, today.minusDays(1));
            lots.plant(lot.id(), 60, today, reference);
        });
        assertThat(now(lot).lifted()).isZero();
        assertThat(now(lot).unplaced()).isZero();
        Map<UUID, Integer> standing = new HashMap<>();
        vineyard.inside(() -> lots.holds(lot.id())).forEach(h -> standing.put(h.id(), h.count()));
        assertThat(standing).isEqualTo(Map.of(holds[0], 20, holds[1], 20));
    }

    @Test
    void undoPutsEveryVineBackWhereItWasTakenAndLeavesATrace() {
        Lot lot = received(20);
        UUID reference = UUID.randomUUID();
        UUID hold = vineyard.inside(
                () -> stock.place(lot.id(), TestStock.store(stock, StoreKind.SHED), 15, today.minusDays(2)));
        vineyard.run(() -> lots.plant(lot.id(), 12, today, reference));
        assertThat(now(lot).unplaced()).isZero();
        vineyard.run(() -> lots.undoPlant(reference, today));
        assertThat(now(lot).unplaced()).isEqualTo(5);
        assertThat(now(lot).planted()).isZero();
        assertThat(vineyard.inside(() -> lots.holds(lot.id())).get(0).count()).isEqualTo(15);
        List<Movement> trace = vineyard.inside(() -> ledger.byReference(reference));
        assertThat(trace).hasSize(4);
        assertThatThrownBy(() -> vineyard.run(() -> lots.undoPlant(reference, today)))
                .hasMessage("planting");
        assertThat(hold).isNotNull();
    }

    @Test
    void aMovementIsTakenBackOnce() {
        Lot lot = received(20);
        UUID hold = vineyard.inside(
                () -> stock.place(lot.id(), TestStock.store(stock, StoreKind.SHED), 15, today.minusDays(2)));
        vineyard.run(() -> stock.lift(hold, 5, today));
        UUID lift = vineyard.inside(() -> ledger.movements(lot.id())).get(0).id();
        vineyard.run(() -> keeping.undo(lot.id(), lift));
        assertThat(now(lot).lifted()).isZero();
        assertThatThrownBy(() -> vineyard.run(() -> keeping.undo(lot.id(), lift)))
                .isInstanceOf(Refused.class)
                .hasMessage("nursery.ledger.already-undone");
    }

    @Test
    void moreThanThereIsIsRefusedAndNothingIsHalfDone() {
        Lot lot = received(10);
        assertThatThrownBy(() -> vineyard.run(() -> lots.plant(lot.id(), 11, today, UUID.randomUUID())))
                .isInstanceOf(Refused.class)
                .hasMessage("nursery.plant.too-few");
        assertThat(now(lot).balance()).isEqualTo(10);
        assertThat(now(lot).planted()).isZero();
    }

    @Test
    void whatIsEnteredLateCannotTakeVinesThatWereNotThereThen() {
        Lot lot = received(10);
        vineyard.run(() -> {
            UUID hold = stock.place(lot.id(), TestStock.store(stock, StoreKind.SHED), 10, today.minusDays(8));
            stock.lift(hold, 10, today.minusDays(2));
        });
        assertThatThrownBy(() -> vineyard.run(() ->
                        keeping.takeOut(lot.id(), Spot.LIFTED, MovementKind.LOST, 1, today.minusDays(5), "trodden on")))
                .isInstanceOf(Refused.class)
                .hasMessage("nursery.ledger.too-many-then");
    }

    @Test
    void theLedgerIsOnlyAddedTo() throws SQLException {
        Lot lot = received(10);
        try (Connection owner = TestDatabase.asOwner()) {
            for (String change :
                    List.of("update movement set count = 1", "delete from movement", "truncate movement cascade")) {
                assertThatThrownBy(() -> owner.createStatement().execute(change))
                        .isInstanceOf(SQLException.class)
                        .extracting(e -> ((SQLException) e).getSQLState())
                        .isEqualTo("RL003");
            }
        }
        assertThat(now(lot).balance()).isEqualTo(10);
    }

    @Test
    void anotherVineyardSeesNothingOfIt() {
        Lot lot = received(10);
        TestVineyard other = vineyards.fresh();
        assertThat(other.inside(() -> lots.byId(lot.id()))).isEmpty();
        assertThatThrownBy(() -> other.run(() -> lots.plant(lot.id(), 1, today, UUID.randomUUID())))
                .hasMessage("lot");
    }

    @Test
    void aStocktakeBooksTheDifferenceWithItsReason() {
        Lot lot = received(30);
        assertThat(vineyard.<Integer>inside(
                        () -> keeping.count(lot.id(), Spot.UNPLACED, 27, today.minusDays(1), "mice")))
                .isEqualTo(-3);
        assertThat(now(lot).balance()).isEqualTo(27);
        assertThat(vineyard.<Integer>inside(() -> keeping.count(lot.id(), Spot.UNPLACED, 31, today, "counted twice")))
                .isEqualTo(4);
        assertThat(now(lot).balance()).isEqualTo(31);
        Map<Spot, Integer> balance = vineyard.inside(() -> ledger.balance(lot.id()));
        assertThat(balance.get(Spot.LOST)).isZero();
        assertThatThrownBy(() -> vineyard.run(() -> keeping.count(lot.id(), Spot.UNPLACED, 5, today, " ")))
                .isInstanceOf(Refused.class)
                .hasMessage("nursery.reason.missing");
    }

    @Test
    void splittingAndJoiningLosesNeitherVinesNorOriginNorWaitingTime() {
        Lot lot = received(40);
        UUID hold = vineyard.inside(
                () -> stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 40, today.minusDays(10)));
        UUID part = vineyard.inside(() -> keeping.split(lot.id(), Spot.hold(hold), 15, today));
        Lot split = vineyard.inside(() -> lots.byId(part).orElseThrow());
        assertThat(split.code()).isNotEqualTo(lot.code());
        assertThat(split.passport()).isEqualTo(lot.passport());
        assertThat(split.count()).isEqualTo(15);
        assertThat(now(lot).count()).isEqualTo(25);
        Hold there = vineyard.inside(() -> lots.holds(part)).get(0);
        assertThat(there.since()).isEqualTo(today.minusDays(10));
        vineyard.run(() -> keeping.join(part, lot.id(), today));
        assertThat(now(lot).balance()).isEqualTo(40);
        assertThat(vineyard.inside(() -> lots.byId(part).orElseThrow()).balance())
                .isZero();
        Lot other = received(5);
        assertThatThrownBy(() -> vineyard.run(() -> keeping.join(other.id(), lot.id(), today)))
                .isInstanceOf(Refused.class)
                .hasMessage("nursery.join.other-origin");
    }

    /** A model in memory beside the ledger: whatever is done in whatever order, both agree, on every day. */
    @Test
    void randomHistoriesAgreeWithAModel() {
        Random random = new Random(20270312);
        Lot lot = received(200);
        UUID bed = vineyard.inside(() -> TestStock.store(stock, StoreKind.HEELED_IN));
        UUID shed = vineyard.inside(() -> TestStock.store(stock, StoreKind.SHED));
        Map<Spot, Integer> model = new HashMap<>(Map.of(Spot.UNPLACED, 200, Spot.OUTSIDE, -200));
        Map<LocalDate, Map<Spot, Integer>> byDay = new HashMap<>();
        List<UUID> plantings = new ArrayList<>();
        for (int day = 20; day >= 0; day--) {
            LocalDate on = today.minusDays(day);
            for (int n = 0; n < 12; n++) {
                int count = 1 + random.nextInt(40);
                List<Spot> holds = model.entrySet().stream()
                        .filter(e -> e.getKey().hold() != null && e.getValue() > 0)
                        .map(Map.Entry::getKey)
                        .sorted(java.util.Comparator.comparing(s -> String.valueOf(s.hold())))
                        .toList();
                Spot some = holds.isEmpty() ? null : holds.get(random.nextInt(holds.size()));
                int what = random.nextInt(6);
                try {
                    switch (what) {
                        case 0 ->
                            vineyard.run(() -> {
                                UUID hold = stock.place(lot.id(), random.nextBoolean() ? bed : shed, count, on);
                                int first = Math.min(count, model.getOrDefault(Spot.UNPLACED, 0));
                                shift(model, Spot.UNPLACED, Spot.hold(hold), first);
                                shift(model, Spot.LIFTED, Spot.hold(hold), count - first);
                            });
                        case 1 -> {
                            if (some != null) {
                                vineyard.run(() -> stock.lift(some.hold(), count, on));
                                shift(model, some, Spot.LIFTED, count);
                            }
                        }
                        case 2 -> {
                            UUID reference = UUID.randomUUID();
                            vineyard.run(() -> lots.plant(lot.id(), count, on, reference));
                            for (Movement m : vineyard.inside(() -> ledger.byReference(reference))) {
                                shift(model, m.from(), Spot.PLANTED, m.count());
                            }
                            plantings.add(reference);
                        }
                        case 3 -> {
                            if (!plantings.isEmpty()) {
                                UUID reference = plantings.remove(random.nextInt(plantings.size()));
                                List<Movement> planted = vineyard.inside(() -> ledger.byReference(reference));
                                vineyard.run(() -> lots.undoPlant(reference, on));
                                planted.forEach(m -> shift(model, Spot.PLANTED, m.from(), m.count()));
                            }
                        }
                        case 4 -> {
                            if (some != null) {
                                vineyard.run(() -> keeping.takeOut(
                                        lot.id(), some, MovementKind.LOST, 1 + count % 3, on, "broken"));
                                shift(model, some, Spot.LOST, 1 + count % 3);
                            }
                        }
                        default -> {
                            int there = model.getOrDefault(Spot.UNPLACED, 0);
                            int counted = Math.max(0, there + random.nextInt(5) - 2);
                            int lost = model.getOrDefault(Spot.LOST, 0);
                            vineyard.run(() -> keeping.count(lot.id(), Spot.UNPLACED, counted, on, "counted"));
                            int more = counted - there;
                            int found = Math.min(Math.max(more, 0), lost);
                            shift(model, Spot.LOST, Spot.UNPLACED, more < 0 ? more : found);
                            shift(model, Spot.OUTSIDE, Spot.UNPLACED, more < 0 ? 0 : more - found);
                        }
                    }
                } catch (Refused refused) {
                    assertThat(refused.key()).isIn("nursery.ledger.too-many", "nursery.plant.too-few");
                }
            }
            byDay.put(on, new HashMap<>(model));
        }
        assertThat(withoutZeros(vineyard.inside(() -> ledger.balance(lot.id()))))
                .isEqualTo(withoutZeros(model));
        byDay.forEach((day, then) -> assertThat(withoutZeros(vineyard.inside(() -> ledger.balance(lot.id(), day))))
                .as("balance of %s", day)
                .isEqualTo(withoutZeros(then)));
        assertThat(vineyard.<Integer>inside(() -> ledger.differences())).isZero();
    }

    /** Thousands of movements from several threads: nothing below zero, nothing lost, every balance a sum. */
    @Test
    void manyPeopleAtOnceKeepTheBooksRight() throws Exception {
        Lot[] three = {received(400), received(300), received(200)};
        UUID bed = vineyard.inside(() -> TestStock.store(stock, StoreKind.HEELED_IN));
        List<UUID> holds = new ArrayList<>();
        for (Lot lot : three) {
            holds.add(vineyard.inside(() -> stock.place(lot.id(), bed, lot.balance() / 2, today.minusDays(9))));
        }
        ExecutorService people = Executors.newFixedThreadPool(4);
        try {
            List<Future<Integer>> work = new ArrayList<>();
            for (int person = 0; person < 4; person++) {
                Random random = new Random(person);
                work.add(people.submit(() -> {
                    int done = 0;
                    for (int n = 0; n < 300; n++) {
                        int i = random.nextInt(3);
                        Lot lot = three[i];
                        UUID reference = UUID.randomUUID();
                        try {
                            switch (random.nextInt(3)) {
                                case 0 -> vineyard.run(() -> stock.lift(holds.get(i), 1 + random.nextInt(5), today));
                                case 1 ->
                                    vineyard.run(() -> lots.plant(lot.id(), 1 + random.nextInt(8), today, reference));
                                default -> {
                                    vineyard.run(() -> lots.plant(lot.id(), 1 + random.nextInt(8), today, reference));
                                    vineyard.run(() -> lots.undoPlant(reference, today));
                                    done++;
                                }
                            }
                            done++;
                        } catch (Refused refused) {
                            assertThat(refused.key()).isIn("nursery.ledger.too-many", "nursery.plant.too-few");
                        }
                    }
                    return done;
                }));
            }
            int done = 0;
            for (Future<Integer> one : work) {
                done += one.get();
            }
            assertThat(done).isGreaterThan(300);
        } finally {
            people.shutdown();
        }
        for (Lot lot : three) {
            Map<Spot, Integer> balance = vineyard.inside(() -> ledger.balance(lot.id()));
            assertThat(balance.values().stream().mapToInt(Integer::intValue).sum())
                    .isZero();
            assertThat(balance.entrySet())
                    .allSatisfy(e -> assertThat(e.getValue() >= 0 || e.getKey().equals(Spot.OUTSIDE))
                            .isTrue());
            assertThat(vineyard.inside(() -> ledger.balance(lot.id(), today))).isEqualTo(balance);
        }
        assertThat(vineyard.<Integer>inside(() -> ledger.differences())).isZero();
    }

    private static void shift(Map<Spot, Integer> model, Spot from, Spot to, int count) {
        model.merge(from, -count, Integer::sum);
        model.merge(to, count, Integer::sum);
    }

    private static Map<Spot, Integer> withoutZeros(Map<Spot, Integer> balance) {
        Map<Spot, Integer> kept = new HashMap<>(balance);
        kept.values().removeIf(n -> n == 0);
        return kept;
    }
}
