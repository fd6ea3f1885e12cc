package org.rootling.bench;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.Locale;
import java.util.UUID;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ResponseBody;

/** Times all clocks and the balance queries inside the process, database included. */
@Controller
class HoldsBench {

    private static final int WARM = 60;
    private static final int ROUNDS = 101;

    private final Lots lots;
    private final NurseryViews views;
    private final Vineyards vineyards;

    HoldsBench(Lots lots, NurseryViews views, Vineyards vineyards) {
        this.lots = lots;
        this.views = views;
        this.vineyards = vineyards;
    }

    @GetMapping(path = "/v/{vineyard}/bench/holds", produces = MediaType.TEXT_PLAIN_VALUE)
    @Needs(Role.READER)
    @ResponseBody
    String times() {
        Lot lot = lots.byCode("99-AA").orElseThrow();
        UUID id = lot.id();
        LocalDate today = vineyards.today();
        return String.format(
                Locale.ROOT,
                "holds %d%nclocks-ms %.2f%nbalance-ms %.3f%nall-balances-ms %.3f%nbalance-of-a-day-ms %.3f%n",
                lots.holds().size(),
                median(() -> lots.holds()),
                median(() -> lots.byId(id)),
                median(() -> lots.all()),
                median(() -> views.balance(id, today.minusDays(1))));
    }

    private static double median(Runnable work) {
        for (int i = 0; i < WARM; i++) {
            work.run();
        }
        double[] times = new double[ROUNDS];
        for (int i = 0; i < ROUNDS; i++) {
            long start = System.nanoTime();
            work.run();
            times[i] = (System.nanoTime() - start) / 1e6;
        }
        Arrays.sort(times);
        return times[ROUNDS / 2];
    }
}
