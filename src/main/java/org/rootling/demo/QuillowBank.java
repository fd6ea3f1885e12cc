package org.rootling.demo;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.BlockDesk;
import org.rootling.ground.Ground;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StockPapers;
import org.rootling.nursery.StoreKind;
import org.rootling.people.Founding.Seat;
import org.rootling.planting.Sighting;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.trellis.TrellisDesk;
import org.rootling.weather.WeatherBook;
import org.rootling.work.FieldLog;
import org.rootling.work.Found;
import org.rootling.work.NewTask;
import org.rootling.work.Planning;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.Tasks;
import org.springframework.context.annotation.Profile;
import org.springframework.stereotype.Component;

/**
 * Quillow Bank, invented: a smallholding with two blocks of odd shape, seven lots of four varieties on three rootstocks, one
 * of them standing too long, four people and a season of work half done. Every number here is made up.
 */
@Component
@Profile("demo")
class QuillowBank {

    private static final LocalDate TODAY = DemoClock.FIRST_DAY;

    private final BlockDesk desk;
    private final Ground ground;
    private final TrellisDesk trellis;
    private final Stock stock;
    private final StockPapers papers;
    private final Lots lots;
    private final Tasks tasks;
    private final FieldLog log;
    private final Vines vines;
    private final WeatherBook weather;
    private final Steps steps;
    private final Planning planning;

    QuillowBank(
            BlockDesk desk,
            Ground ground,
            TrellisDesk trellis,
            Stock stock,
            StockPapers papers,
            Lots lots,
            Tasks tasks,
            FieldLog log,
            Vines vines,
            WeatherBook weather,
            Steps steps,
            Planning planning) {
        this.desk = desk;
        this.ground = ground;
        this.trellis = trellis;
        this.stock = stock;
        this.papers = papers;
        this.lots = lots;
        this.tasks = tasks;
        this.log = log;
        this.vines = vines;
        this.weather = weather;
        this.steps = steps;
        this.planning = planning;
    }

    /** Owner, lead, helper and reader, in this order. */
    void seed(List<Seat> people) {
        UUID lead = people.get(1).accountId();
        UUID helper = people.get(2).accountId();
        weather.take(inventedDays());
        layOut();
        List<Lot> delivered = deliver();
        plantHalf(delivered, lead, helper);
        walkTheFirstRows(lead);
        buildTheTrellis(lead, helper);
        planTheRest(helper);
        planTheDays(people.get(1), people.get(2));
    }

    private void layOut() {
        desk.add("GP", "Gate Piece", corners(0, 0, 48, 3, 55, 41, 31, 52, 4, 45));
        desk.exclude("GP", "Walnut tree", corners(36, 38, 41, 37, 42, 42, 37, 43));
        desk.layOut("GP", 2.1, 1.15, 5, 1.5, 4.0);
        desk.add("LS", "Long Slip", corners(0, 0, 26, -4, 30, 33, 22, 62, 3, 60));
        desk.layOut("LS", 2.2, 1.2, 5, 1.5, 0.0);
    }

    private List<Lot> deliver() {
        UUID achat = stock.addSupplier(new Stock.NewSupplier("Rebschule Achat", "DE-0000-1234", "DE", null, 25));
        UUID tolm = stock.addSupplier(new Stock.NewSupplier("Pépinière du Tolm", "FR-0000-77", "FR", null, 25));
        UUID order = stock.order(new Stock.NewOrder(
                achat,
                "QB-2027-1",
                LocalDate.of(2026, 9, 14),
                "EUR",
                null,
                List.of(
                        line("Pinot noir", "SO4", 250, "2.35"),
                        line("Pinot noir", "3309 Couderc", 150, "2.45"),
                        line("Riesling", "SO4", 200, "2.20"),
                        line("Riesling", "Kober 5BB", 100, "2.20"))));
        UUID second = stock.order(new Stock.NewOrder(
                tolm,
                "QB-2027-2",
                LocalDate.of(2026, 10, 2),
                "EUR",
                null,
                List.of(
                        line("Auxerrois", "Kober 5BB", 75, "2.60"),
                        line("Bacchus", "3309 Couderc", 125, "1.95"),
                        line("Bacchus", "SO4", 100, "1.95"))));
        List<UUID> achats = stock.orderLines(order);
        List<UUID> tolms = stock.orderLines(second);
        Stock.NewDeliveryLine labelled = taken(tolms.get(0), "FR-0000-77", "Auxerrois", "Kober 5BB", 3, 0, null);
        List<Lot> early = stock.receive(new Stock.NewDelivery(
                tolm,
                second,
                LocalDate.of(2027, 4, 12),
                2,
                "T-418",
                null,
                "came three weeks before we were ready",
                List.of(labelled)));
        papers.keepLabel(
                early.get(0).id(),
                PaintedLabel.of(early.get(0), labelled.passport(), labelled.bundles(), labelled.bundleSize()));
        List<Lot> main = stock.receive(new Stock.NewDelivery(
                achat,
                order,
                LocalDate.of(2027, 4, 26),
                1,
                "A-20931",
                "R-5512",
                null,
                List.of(
                        taken(achats.get(0), "DE-0000-1234", "Pinot noir", "SO4", 10, 0, null),
                        taken(
                                achats.get(1),
                                "DE-0000-1234",
                                "Pinot noir",
                                "3309 Couderc",
                                6,
                                2,
                                "graft opens under the thumb"),
                        taken(achats.get(2), "DE-0000-1234", "Riesling", "SO4", 8, 0, null),
                        taken(achats.get(3), "DE-0000-1234", "Riesling", "Kober 5BB", 4, 0, null))));
        List<Lot> late = stock.receive(new Stock.NewDelivery(
                tolm,
                second,
                LocalDate.of(2027, 5, 19),
                2,
                "T-455",
                null,
                null,
                List.of(
                        taken(tolms.get(1), "FR-0000-77", "Bacchus", "3309 Couderc", 5, 0, null),
                        taken(tolms.get(2), "FR-0000-77", "Bacchus", "SO4", 3, 0, null))));
        UUID gate = ground.blockByCode("GP").orElseThrow().id();
        UUID bed = stock.addStore(new Stock.NewStore(
                "Bed by the barn",
                StoreKind.HEELED_IN,
                500,
                null,
                "sandy loam",
                "north side, in the shade",
                -6.0,
                24.0,
                gate));
        UUID room = stock.addStore(
                new Stock.NewStore("Cold room", StoreKind.COLD_STORE, 700, 2.0, null, "at the dairy", null, null));
        UUID lean = stock.addStore(new Stock.NewStore(
                "Lean-to", StoreKind.UNDER_COVER, 150, null, "loamy sand", "behind the press", 58.0, 8.0, gate));
        stock.place(early.get(0).id(), bed, 75, LocalDate.of(2027, 4, 13));
        stock.place(main.get(0).id(), bed, 100, LocalDate.of(2027, 4, 27));
        stock.place(main.get(0).id(), room, 150, LocalDate.of(2027, 4, 27));
        stock.place(main.get(1).id(), room, 148, LocalDate.of(2027, 4, 27));
        stock.place(main.get(2).id(), room, 200, LocalDate.of(2027, 4, 27));
        stock.place(main.get(3).id(), room, 100, LocalDate.of(2027, 4, 28));
        stock.place(late.get(0).id(), lean, 125, LocalDate.of(2027, 5, 20));
        stock.place(late.get(1).id(), bed, 75, LocalDate.of(2027, 5, 20));
        for (LocalDate day = LocalDate.of(2027, 4, 16); !day.isAfter(TODAY.minusDays(4)); day = day.plusDays(4)) {
            stock.water(bed, day, 12.0);
        }
        stock.water(bed, TODAY.minusDays(1), 12.0);
        stock.water(lean, TODAY.minusDays(2), 10.0);
        stock.water(room, TODAY.minusDays(15), null);
        stock.water(room, TODAY.minusDays(5), null);
        List<Lot> all = new ArrayList<>(main);
        all.addAll(late);
        all.addAll(early);
        return all;
    }

    /** Plants the first rows of Gate Piece, one lot after the other, as far as the days allowed. */
    private void plantHalf(List<Lot> delivered, UUID lead, UUID helper) {
        UUID gate = ground.blockByCode("GP").orElseThrow().id();
        List<Row> rows = ground.rows(gate);
        LocalDate day = LocalDate.of(2027, 4, 29);
        int lot = 0;
        for (Row row : rows.subList(0, Math.min(9, rows.size()))) {
            while (lots.byId(delivered.get(lot).id()).orElseThrow().balance() < row.places()) {
                lot++;
            }
            done(row, "BORE", null, day.minusDays(1), 40, lead, List.of());
            List<Found> found = row.number() == 4 ? List.of(new Found(3, "broken")) : List.of();
            done(row, "PLANT", delivered.get(lot).id(), day, 95, row.number() % 2 == 0 ? lead : helper, found);
            done(row, "WATER_IN", null, day, 30, helper, List.of());
            day = day.plusDays(row.number() % 2 == 0 ? 3 : 1);
        }
    }

    private void done(Row row, String step, @Nullable UUID lot, LocalDate on, int minutes, UUID by, List<Found> found) {
        UUID task = tasks.create(new NewTask(step, row.id(), lot, null, on, List.of(by), null));
        log.take(
                new FieldLog.Entry(
                        UUID.randomUUID(),
                        task,
                        row.blockCode() + " r" + row.number() + " 1-" + row.places(),
                        null,
                        found,
                        minutes,
                        on.atTime(14, 30).toInstant(ZoneOffset.UTC),
                        null),
                by);
    }

    /** The rows planted first have been walked once: most vines grow, some do not. */
    private void walkTheFirstRows(UUID lead) {
        UUID gate = ground.blockByCode("GP").orElseThrow().id();
        Random random = new Random(7);
        for (Row row : ground.rows(gate).subList(0, 5)) {
            SortedSet<Integer> standing =
                    vines.inRow(row.id()).stream().map(v -> v.place()).collect(Collectors.toCollection(TreeSet::new));
            List<Sighting> seen = new ArrayList<>();
            for (VineState state : List.of(
                    VineState.DEAD, VineState.MISSING, VineState.NOT_MOVING, VineState.WEAK, VineState.GROWING)) {
                int share = switch (state) {
                    case DEAD -> 4;
                    case MISSING -> 1;
                    case NOT_MOVING -> 5;
                    case WEAK -> 9;
                    default -> 100;
                };
                SortedSet<Integer> places = standing.stream()
                        .filter(place -> random.nextInt(100) < share)
                        .collect(Collectors.toCollection(TreeSet::new));
                standing.removeAll(places);
                if (!places.isEmpty()) {
                    seen.add(new Sighting(state, places));
                }
            }
            vines.walk(row.id(), seen, TODAY.minusDays(3), null, lead, null);
        }
    }

    /** The trellis of Gate Piece: planned, priced, bought in part, and standing in the first rows. */
    private void buildTheTrellis(UUID lead, UUID helper) {
        List<String> codes = List.of("GP");
        UUID gate = ground.blockByCode("GP").orElseThrow().id();
        trellis.plan(gate, TrellisDesk.Canopy.MEDIUM);
        Map<String, String> prices = Map.of(
                "END_POST", "11.40",
                "ANCHOR", "9.80",
                "LINE_POST", "6.25",
                "WIRE", "84.00",
                "STAKE", "0.72",
                "GUARD", "1.15");
        for (TrellisDesk.Need need : trellis.needs(codes)) {
            String price = prices.get(need.kind());
            if (price == null) {
                continue;
            }
            BigDecimal each = new BigDecimal(price);
            BigDecimal pack = BigDecimal.ONE;
            switch (need.kind()) {
                case "END_POST", "ANCHOR" ->
                    trellis.buy(
                            need.key(),
                            "GP",
                            need.quantity(),
                            LocalDate.of(2027, 4, 6),
                            each.multiply(need.quantity()));
                case "WIRE" -> {
                    pack = new BigDecimal(648);
                    trellis.buy(
                            need.key(), "GP", new BigDecimal(1296), LocalDate.of(2027, 5, 3), new BigDecimal("168.00"));
                }
                default -> {}
            }
            trellis.sell(need.key(), pack, each, new BigDecimal(2));
        }
        trellis.keep(codes, new BigDecimal("95.00"), "EUR");
        List<Row> built = ground.rows(gate).subList(0, 3);
        for (Row row : built) {
            done(row, "SET_END_POSTS", null, LocalDate.of(2027, 5, 4), 50, lead, List.of());
            done(row, "STRING_WIRE", null, LocalDate.of(2027, 5, 12), 70, helper, List.of());
        }
        LocalDate tightened = LocalDate.of(2027, 5, 13);
        done(built.get(0), "TIGHTEN_WIRE", null, tightened, 25, lead, List.of());
        trellis.measure(built.get(0).id(), 0, tightened, 780, 14, LocalDate.of(2028, 4, 1));
        trellis.measure(built.get(1).id(), 0, tightened, 560, 14, TODAY.minusDays(2));
    }

    /** What is left to do: the other rows of Gate Piece now, Long Slip next. */
    private void planTheRest(UUID helper) {
        UUID gate = ground.blockByCode("GP").orElseThrow().id();
        List<Row> rows = ground.rows(gate);
        List<Lot> waiting = lots.all().stream().filter(l -> l.balance() > 0).toList();
        int next = 0;
        for (Row row : rows.subList(Math.min(9, rows.size()), Math.min(13, rows.size()))) {
            while (next < waiting.size() - 1 && waiting.get(next).balance() < row.places()) {
                next++;
            }
            tasks.create(new NewTask("BORE", row.id(), null, null, TODAY.minusDays(1), List.of(helper), null));
            tasks.create(new NewTask("PLANT", row.id(), waiting.get(next).id(), null, TODAY, List.of(helper), null));
        }
        for (Row row : rows.subList(0, Math.min(6, rows.size()))) {
            tasks.create(new NewTask(
                    "GUARD", row.id(), null, null, TODAY.plusDays(row.number() - 3), List.of(helper), null));
            tasks.create(new NewTask("STAKE", row.id(), null, null, TODAY.plusDays(row.number()), List.of(), null));
        }
        UUID slip = ground.blockByCode("LS").orElseThrow().id();
        for (Row row : ground.rows(slip).subList(0, 3)) {
            tasks.create(new NewTask("MARK_OUT", row.id(), null, null, TODAY.plusDays(2), List.of(), null));
        }
    }

    /** Who works when, how long a place takes by the grower's guess, and a schedule and outlook made of it. */
    private void planTheDays(Seat lead, Seat helper) {
        planning.addPerson(person(lead.accountId(), "Jonas Feld", "4 0 4 0 4 8 0", null));
        planning.addPerson(person(helper.accountId(), "Tilde Moor", "6 6 6 6 6 0 0", "14.50"));
        planning.addPerson(person(null, "Bram from the village", "0 0 4 0 0 8 0", "13.00"));
        planning.countTool("auger", 1);
        Map<String, String> minutes =
                Map.of("MARK_OUT", "0.6", "BORE", "2.5", "PLANT", "4", "GUARD", "1.5", "STAKE", "2", "WATER_IN", "1.2");
        minutes.forEach((code, guess) -> {
            Step s = steps.byCode(code).orElseThrow();
            steps.change(
                    code,
                    new Steps.Settings(
                            null,
                            s.peopleLeast(),
                            s.peopleMost(),
                            s.tool(),
                            s.skill(),
                            s.after(),
                            s.waitDays(),
                            s.outdoors(),
                            new BigDecimal(guess)),
                    s.version());
        });
        planning.schedule(TODAY, 2);
        planning.playSeasons(TODAY, 1000, 2027);
    }

    private static Planning.NewPerson person(@Nullable UUID account, String name, String hours, @Nullable String wage) {
        return new Planning.NewPerson(
                account,
                name,
                Arrays.stream(hours.split(" ")).map(BigDecimal::new).toList(),
                List.of(),
                wage == null ? null : new BigDecimal(wage),
                "EUR");
    }

    /** Two years and a half of days with a plausible year's course, and five days of forecast; invented. */
    private static List<WeatherBook.Day> inventedDays() {
        Random random = new Random(20270524);
        List<WeatherBook.Day> days = new ArrayList<>();
        double drift = 0;
        for (LocalDate date = LocalDate.of(2025, 1, 1); !date.isAfter(TODAY.plusDays(5)); date = date.plusDays(1)) {
            drift = 0.7 * drift + 2.2 * random.nextGaussian();
            double season = 8.9 - 8.8 * Math.cos(2 * Math.PI * (date.getDayOfYear() - 18) / 365.25);
            boolean wet = random.nextInt(100) < 34;
            double half = wet ? 3.2 : 5.6;
            double mean = season + drift;
            double rain = wet ? Math.round(-42 * Math.log(1 - random.nextDouble())) / 10.0 : 0;
            days.add(new WeatherBook.Day(date, tenth(mean - half), tenth(mean + half), rain));
        }
        return days;
    }

    private static double tenth(double value) {
        return Math.round(value * 10) / 10.0;
    }

    private static Stock.NewOrderLine line(String variety, String rootstock, int vines, String price) {
        return new Stock.NewOrderLine(
                variety, null, rootstock, vines, new java.math.BigDecimal(price), LocalDate.of(2027, 4, 26));
    }

    private static Stock.NewDeliveryLine taken(
            UUID ordered,
            String registration,
            String variety,
            String rootstock,
            int bundles,
            int rejected,
            @Nullable String reason) {
        String origin = registration.substring(0, 2);
        return new Stock.NewDeliveryLine(
                ordered,
                variety,
                null,
                rootstock,
                bundles,
                25,
                0,
                null,
                rejected,
                reason,
                Stock.ArrivalCheck.ALL_GOOD,
                new Stock.Passport(
                        "Vitis vinifera", registration, variety.substring(0, 3) + "-27-" + bundles, origin, null));
    }

    private static List<Point> corners(double... xy) {
        return IntStream.range(0, xy.length / 2)
                .mapToObj(i -> new Point(xy[2 * i], xy[2 * i + 1]))
                .toList();
    }
}
