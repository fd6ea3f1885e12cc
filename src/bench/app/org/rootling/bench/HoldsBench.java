package org.rootling.bench;

import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import java.util.function.IntConsumer;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.weather.WeatherBook;
import org.springframework.http.MediaType;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ResponseBody;

/**
 * Times all clocks and the balance queries inside the process, database included: as they are asked again and again, after
 * a watering (all clocks are reckoned anew), and after a day of weather (ten years of days are read anew as well).
 */
@Controller
class HoldsBench {

    private static final int WARM = 60;
    private static final int ROUNDS = 101;

    private final Lots lots;
    private final Stock stock;
    private final WeatherBook weather;
    private final NurseryViews views;
    private final Vineyards vineyards;

    HoldsBench(Lots lots, Stock stock, WeatherBook weather, NurseryViews views, Vineyards vineyards) {
        this.lots = lots;
        this.stock = stock;
        this.weather = weather;
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
        List<Hold> holds = lots.holds();
        UUID bed = holds.get(0).storeId();
        IntConsumer nothing = n -> {};
        IntConsumer watered = n -> stock.water(bed, today.minusDays(1), 0.1);
        IntConsumer dayCame =
                n -> weather.take(List.of(new WeatherBook.Day(today, 5, 14 + 0.01 * (System.nanoTime() % 500), 0)));
        return String.format(
                Locale.ROOT,
                "holds %d%nclocks-again-ms %.2f%nclocks-ms %.2f%nclocks-and-weather-ms %.2f%n"
                        + "balance-ms %.3f%nall-balances-ms %.3f%nbalance-of-a-day-ms %.3f%n",
                holds.size(),
                median(nothing, () -> lots.holds()),
                median(watered, () -> lots.holds()),
                median(dayCame, () -> lots.holds()),
                median(nothing, () -> lots.byId(id)),
                median(nothing, () -> lots.all()),
                median(nothing, () -> views.balance(id, today.minusDays(1))));
    }

    private static double median(IntConsumer before, Runnable work) {
        for (int i = 0; i < WARM; i++) {
            before.accept(i);
            work.run();
        }
        double[] times = new double[ROUNDS];
        for (int i = 0; i < ROUNDS; i++) {
            before.accept(i);
            long start = System.nanoTime();
            work.run();
            times[i] = (System.nanoTime() - start) / 1e6;
        }
        Arrays.sort(times);
        return times[ROUNDS / 2];
    }
}
