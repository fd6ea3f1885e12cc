package org.rootling.planting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.util.List;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.CyclicBarrier;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.concurrent.TimeUnit;
import java.util.concurrent.TimeoutException;
import java.util.function.Supplier;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.ground.domain.GroundService;
import org.rootling.people.Role;
import org.rootling.platform.Ids;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.NewTask;
import org.rootling.work.Tasks;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** One person lays the rows out anew while another plants into them: no vine is left in a row that is gone. */
@AppTest
@Import(TestField.class)
class RowRaceTest {
    private static final LayoutSpec ANEW = LayoutSpec.of(2, 1.2, 2, 1).bearing(90.0);

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    GroundService ground;

    @Autowired
    Vines vines;

    @Autowired
    Tasks tasks;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    TransactionTemplate transaction;

    private final ExecutorService people = Executors.newFixedThreadPool(2);
    private TestVineyard vineyard;
    private TestField.Field field;

    @BeforeEach
    void aField() {
        vineyard = vineyards.fresh();
        field = fields.make(vineyard, 200);
    }

    @AfterEach
    void goHome() {
        people.shutdownNow();
    }

    private UUID row() {
        return field.row(1).id();
    }

    private Object plant(UUID row, int place) {
        SortedSet<Integer> places = new TreeSet<>(List.of(place));
        vines.plant(new NewPlanting(
                Ids.next(), row, places, field.lot(), fields.today(vineyard), vineyard.account(Role.LEAD)));
        return "planted";
    }

    private Object accept(int version) {
        ground.accept(field.code(), version, ANEW);
        return "laid out";
    }

    /** Does the work in a transaction of its own that ends only when it may. */
    private Future<Object> slowly(Supplier<Object> work, CountDownLatch done, CountDownLatch mayEnd) {
        return people.submit(() -> vineyard.inside(() -> transaction.execute(status -> {
            Object result = work.get();
            done.countDown();
            try {
                if (!mayEnd.await(20, TimeUnit.SECONDS)) {
                    throw new IllegalStateException("never let go");
                }
            } catch (InterruptedException e) {
                throw new IllegalStateException(e);
            }
            return result;
        })));
    }

    private Future<Object> atOnce(Supplier<Object> work) {
        return people.submit(() -> vineyard.inside(() -> transaction.execute(status -> work.get())));
    }

    /** The second must wait for the first, and is refused when the first has ended. */
    private Throwable secondOf(Supplier<Object> first, Supplier<Object> second) throws Exception {
        CountDownLatch done = new CountDownLatch(1);
        CountDownLatch mayEnd = new CountDownLatch(1);
        Future<Object> slow = slowly(first, done, mayEnd);
        if (!done.await(20, TimeUnit.SECONDS)) {
            slow.get(1, TimeUnit.SECONDS);
        }
        Future<Object> waiting = atOnce(second);
        assertThatThrownBy(() -> waiting.get(400, TimeUnit.MILLISECONDS)).isInstanceOf(TimeoutException.class);
        mayEnd.countDown();
        slow.get(20, TimeUnit.SECONDS);
        try {
            waiting.get(20, TimeUnit.SECONDS);
        } catch (ExecutionException e) {
            return e.getCause();
        }
        throw new AssertionError("the second was not refused");
    }

    private int astray() {
        return vineyard.inside(() -> jdbc.sql(
                        "select count(*) from vine v join vine_row r on (r.vineyard_id, r.id) = (v.vineyard_id, v.row_id)"
                                + " where r.withdrawn_at is not null and v.ended_on is null")
                .query(Integer.class)
                .single());
    }

    @Test
    void aNewLayoutWaitsForThePlantingUnderWayAndIsThenRefused() throws Exception {
        Throwable refused = secondOf(() -> plant(row(), 3), () -> accept(0));
        assertThat(refused)
                .isInstanceOfSatisfying(
                        Refused.class, r -> assertThat(r.key()).isEqualTo("planting.guard.vines-stand"));
        assertThat(astray()).isZero();
    }

    @Test
    void plantingWaitsForTheNewLayoutUnderWayAndIsThenRefused() throws Exception {
        Throwable refused = secondOf(() -> accept(0), () -> plant(row(), 3));
        assertThat(refused)
                .isInstanceOfSatisfying(Refused.class, r -> assertThat(r.key()).isEqualTo("ground.row.replaced"));
        assertThat(astray()).isZero();
    }

    @Test
    void aTaskWaitsForTheNewLayoutToo() throws Exception {
        NewTask weed = new NewTask("WEED", row(), null, null, null, List.of(), null);
        Throwable refused = secondOf(() -> accept(0), () -> tasks.create(weed));
        assertThat(refused).isInstanceOf(Refused.class);
    }

    @Test
    void ofTwoLayoutsAcceptedAtOnceOneIsStale() throws Exception {
        assertThat(secondOf(() -> accept(0), () -> accept(0))).isInstanceOf(Stale.class);
    }

    @Test
    void whoeverComesFirstNoVineIsLeftBehind() throws Exception {
        int planted = 0;
        for (int round = 0; round < 12; round++) {
            int version = vineyard.inside(
                    () -> ground.blockByCode(field.code()).orElseThrow().version());
            UUID row = vineyard.inside(
                    () -> ground.row(field.code(), 1).orElseThrow().id());
            CyclicBarrier together = new CyclicBarrier(2);
            Future<Object> layout = atOnce(() -> {
                meet(together);
                return accept(version);
            });
            Future<Object> planting = atOnce(() -> {
                meet(together);
                return plant(row, 1);
            });
            boolean stands = succeeded(planting);
            assertThat(succeeded(layout)).isNotEqualTo(stands);
            assertThat(astray()).isZero();
            if (stands) {
                planted++;
                field = another();
            }
        }
        assertThat(planted).isBetween(0, 12);
    }

    private TestField.Field another() {
        vineyard = vineyards.fresh();
        return fields.make(vineyard, 200);
    }

    private static void meet(CyclicBarrier together) {
        try {
            together.await(10, TimeUnit.SECONDS);
        } catch (Exception e) {
            throw new IllegalStateException(e);
        }
    }

    private static boolean succeeded(Future<Object> work) throws Exception {
        try {
            work.get(20, TimeUnit.SECONDS);
            return true;
        } catch (ExecutionException refused) {
            if (refused.getCause() instanceof Refused) {
                return false;
            }
            throw refused;
        }
    }
}
