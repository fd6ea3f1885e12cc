package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.List;
import java.util.TreeSet;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.rootling.ground.BlockDesk;
import org.rootling.ground.Ground;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.nursery.HoldRanShort;
import org.rootling.nursery.Level;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.Vines;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.trellis.RowProgress;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.ApplicationEventPublisher;
import org.springframework.transaction.support.TransactionTemplate;

/** Work tells the trellis how far it is, and hears from the nursery what cannot wait. */
@AppTest
class WorkTellsOthersTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Vineyards days;

    @Autowired
    BlockDesk desk;

    @Autowired
    Ground ground;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    @Autowired
    Tasks tasks;

    @Autowired
    FieldLog log;

    @Autowired
    Vines vines;

    @Autowired
    RowProgress progress;

    @Autowired
    ApplicationEventPublisher events;

    @Autowired
    TransactionTemplate transaction;

    @Test
    void guardsThatWereLoggedAreDoneOnTheTrellisPageToo() {
        TestVineyard vineyard = vineyards.fresh();
        LocalDate today = vineyard.inside(() -> days.today());
        Row row = vineyard.inside(this::row);
        UUID lead = vineyard.account(Role.LEAD);
        vineyard.run(() -> {
            UUID task = tasks.create(new NewTask("GUARD", row.id(), null, null, today, List.of(lead), null));
            log.take(
                    new FieldLog.Entry(
                            UUID.randomUUID(),
                            task,
                            "B1 r1 1-5",
                            "2",
                            List.of(),
                            20,
                            today.minusDays(1).atTime(10, 0).toInstant(ZoneOffset.UTC),
                            null),
                    lead);
        });
        assertThat(vineyard.inside(() -> progress.of(List.of(row.id()))))
                .containsExactly(
                        new RowProgress.Done(row.id(), RowProgress.Step.GUARD, 4, row.places(), today.minusDays(1)));
        assertThat(vineyards.fresh().inside(() -> progress.of(List.of(row.id()))))
                .isEmpty();
    }

    @Test
    void aHoldThatRanShortBringsItsPlantingForward() throws InterruptedException {
        TestVineyard vineyard = vineyards.fresh();
        LocalDate today = vineyard.inside(() -> days.today());
        Row row = vineyard.inside(this::row);
        UUID[] ids = new UUID[2];
        vineyard.run(() -> {
            Lot lot = lot(4, today.minusDays(25));
            UUID bed =
                    stock.addStore(new Stock.NewStore("Bed", StoreKind.HEELED_IN, null, null, null, null, null, null));
            UUID hold = stock.place(lot.id(), bed, 100, today.minusDays(20));
            ids[0] = lot.id();
            ids[1] = tasks.create(new NewTask("PLANT", row.id(), lot.id(), null, today.plusDays(60), List.of(), null));
            transaction.executeWithoutResult(status -> events.publishEvent(
                    new HoldRanShort(vineyard.id(), hold, lot.id(), lot.code(), "Bed", Level.SOON, today.plusDays(8))));
        });
        LocalDate plantBy = vineyard.inside(() -> lots.plantBy(ids[0])).orElseThrow();
        assertThat(plantBy).isBefore(today.plusDays(60));
        for (int i = 0; i < 100 && !plantBy.equals(due(vineyard, ids[1])); i++) {
            Thread.sleep(100);
        }
        assertThat(due(vineyard, ids[1])).isEqualTo(plantBy);
    }

    @Test
    void rowsWithVinesStayInTheirBlockWhenItIsSplit() {
        TestVineyard vineyard = vineyards.fresh();
        LocalDate today = vineyard.inside(() -> days.today());
        vineyard.inside(this::row);
        Row last = vineyard.inside(() -> ground.row("B1", 12)).orElseThrow();
        vineyard.run(() -> {
            Lot lot = lot(1, today.minusDays(5));
            vines.plant(new NewPlanting(
                    UUID.randomUUID(),
                    last.id(),
                    new TreeSet<>(List.of(1)),
                    lot.id(),
                    today,
                    vineyard.account(Role.LEAD)));
        });
        int version =
                vineyard.inside(() -> ground.blockByCode("B1")).orElseThrow().version();
        TestBrowser.Answer answer = vineyard.as(Role.LEAD)
                .send("/blocks/B1/rows/split", "version", "" + version, "row", "6", "newCode", "B9", "name", "Far");
        assertThat(answer.page().select(".error").text()).contains("stay in their block");
        assertThat(vineyard.inside(() -> ground.blockByCode("B9"))).isEmpty();
    }

    private Lot lot(int bundles, LocalDate came) {
        UUID nursery = stock.addSupplier(new Stock.NewSupplier("Achat", null, "DE", null, 25));
        return stock.receive(new Stock.NewDelivery(
                        nursery,
                        null,
                        came,
                        null,
                        null,
                        null,
                        null,
                        List.of(new Stock.NewDeliveryLine(
                                null,
                                "Riesling",
                                null,
                                "SO4",
                                bundles,
                                25,
                                0,
                                null,
                                0,
                                null,
                                Stock.ArrivalCheck.ALL_GOOD,
                                Stock.Passport.UNKNOWN))))
                .get(0);
    }

    private LocalDate due(TestVineyard vineyard, UUID task) {
        return vineyard.inside(() -> tasks.byId(task)).orElseThrow().due();
    }

    private Row row() {
        desk.add("B1", "By the lane", List.of(new Point(0, 0), new Point(30, 0), new Point(30, 40), new Point(0, 40)));
        desk.layOut("B1", 2.2, 1.2, 6, 2, 0);
        return ground.row("B1", 1).orElseThrow();
    }
}
