package org.rootling.review.domain;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyards;
import org.rootling.platform.Tenancy;
import org.rootling.weather.calc.Seasons;
import org.rootling.weather.calc.Span;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.PlatformTransactionManager;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Planting seasons from the order to the first pruning: what happened when, and what hours and money the rows first planted
 * in a season took. Other vineyards are read one by one, each through its own tenancy, and only those the person owns.
 */
@Service
public class SeasonBook {

    /** Seasons compared of one vineyard, the latest. */
    private static final int MOST_SEASONS = 5;

    /** Vineyards compared. */
    private static final int MOST_VINEYARDS = 20;

    private static final BigDecimal HECTARE = BigDecimal.valueOf(10_000);

    /**
     * Something that happened.
     *
     * @param until last day of it; the same as {@code on} for a single day
     */
    public record Event(String key, LocalDate on, LocalDate until) {}

    /**
     * One kind of work.
     *
     * @param quantity places of its tasks
     * @param done of these, done
     * @param planned hours of all its tasks by the grower's own guess; null without a guess
     * @param plannedForDone the same for what is done
     */
    public record Labour(
            String name,
            int quantity,
            int done,
            @Nullable BigDecimal planned,
            @Nullable BigDecimal plannedForDone,
            BigDecimal hours) {}

    /**
     * Money in one currency.
     *
     * @param currency ISO 4217 code; empty where none was named
     * @param labour paid hours
     * @param material posts, wire, stakes and guards
     */
    public record Cost(String currency, BigDecimal labour, BigDecimal vines, BigDecimal material) {

        static Cost ofLabour(String currency, BigDecimal money) {
            return new Cost(currency, money, BigDecimal.ZERO, BigDecimal.ZERO);
        }

        static Cost ofVines(String currency, BigDecimal money) {
            return new Cost(currency, BigDecimal.ZERO, money, BigDecimal.ZERO);
        }

        static Cost ofMaterial(String currency, BigDecimal money) {
            return new Cost(currency, BigDecimal.ZERO, BigDecimal.ZERO, money);
        }

        Cost plus(Cost other) {
            return new Cost(currency, labour.add(other.labour), vines.add(other.vines), material.add(other.material));
        }

        public BigDecimal all() {
            return labour.add(vines).add(material);
        }
    }

    /**
     * One kind of cost.
     *
     * @param kind labour, vines, material or all
     * @param planned null where no plan tells it
     */
    public record Money(
            String kind,
            String currency,
            BigDecimal spent,
            @Nullable BigDecimal planned) {}

    /**
     * A season in numbers.
     *
     * @param places planted places of the rows first planted in it
     * @param areaM2 their area by spacing
     * @param hours logged on these rows up to the end of the season
     * @param unpriced vines of which no price is known
     * @param unpricedPurchases purchases of material whose price nobody told
     */
    public record Sums(
            String vineyard,
            String slug,
            int season,
            int places,
            double areaM2,
            BigDecimal hours,
            @Nullable BigDecimal plannedForDone,
            List<Cost> costs,
            int unpriced,
            int unpricedPurchases) {
        public Sums {
            costs = List.copyOf(costs);
        }

        public @Nullable BigDecimal minutesPerVine() {
            return places == 0
                    ? null
                    : hours.multiply(BigDecimal.valueOf(60))
                            .divide(BigDecimal.valueOf(places), 1, RoundingMode.HALF_UP);
        }

        public @Nullable BigDecimal hoursPerHectare() {
            return perHectare(hours);
        }

        public @Nullable BigDecimal perVine(BigDecimal money) {
            return places == 0 ? null : money.divide(BigDecimal.valueOf(places), 2, RoundingMode.HALF_UP);
        }

        public @Nullable BigDecimal perHectare(BigDecimal amount) {
            return areaM2 <= 0
                    ? null
                    : amount.multiply(HECTARE).divide(BigDecimal.valueOf(areaM2), 0, RoundingMode.HALF_UP);
        }
    }

    /** One season of the current vineyard; {@code planned} is the money of its plans. */
    public record Book(
            int season, List<Integer> seasons, List<Event> events, List<Labour> labour, Sums sums, List<Cost> planned) {
        public Book {
            planned = List.copyOf(planned);
        }

        /** Spent against planned, kind by kind in each currency; a sum is planned only where each of its kinds is. */
        public List<Money> money() {
            TreeMap<String, Cost> plans = new TreeMap<>();
            planned.forEach(cost -> plans.put(cost.currency(), cost));
            TreeMap<String, Cost> spent = new TreeMap<>();
            sums.costs().forEach(cost -> spent.put(cost.currency(), cost));
            plans.keySet().forEach(currency -> spent.putIfAbsent(currency, Cost.ofLabour(currency, BigDecimal.ZERO)));
            List<Money> lines = new ArrayList<>();
            spent.forEach((currency, cost) -> {
                Cost plan = plans.getOrDefault(currency, Cost.ofLabour(currency, BigDecimal.ZERO));
                List<Money> kinds = List.of(
                        money("labour", currency, cost.labour(), plan.labour()),
                        money("vines", currency, cost.vines(), plan.vines()),
                        money("material", currency, cost.material(), plan.material()));
                boolean whole = kinds.stream()
                        .allMatch(m -> m.planned() != null || m.spent().signum() == 0);
                lines.addAll(kinds);
                lines.add(money("all", currency, cost.all(), whole ? plan.all() : BigDecimal.ZERO));
            });
            return lines;
        }

        private static Money money(String kind, String currency, BigDecimal spent, BigDecimal planned) {
            return new Money(kind, currency, spent, planned.signum() == 0 ? null : planned);
        }
    }

    private record Owned(UUID id, String slug, String name) {}

    static final String ROWS = """
            with rows as (
              select row_id, min(planted_on) as first_on from planting where undone_on is null
               group by row_id having min(planted_on) between :first and :last)
            """;

    static final String STANDS =
            " not exists (select 1 from task_log_undo u where u.vineyard_id = l.vineyard_id and u.log_id = l.id) ";

    private final JdbcClient jdbc;
    private final Vineyards vineyards;
    private final Steps steps;
    private final SeasonCost cost;
    private final TransactionTemplate reading;

    SeasonBook(
            JdbcClient jdbc,
            Vineyards vineyards,
            Steps steps,
            SeasonCost cost,
            PlatformTransactionManager transactions) {
        this.jdbc = jdbc;
        this.vineyards = vineyards;
        this.steps = steps;
        this.cost = cost;
        this.reading = new TransactionTemplate(transactions);
        this.reading.setReadOnly(true);
    }

    /** The season asked for, or the latest one with a planting; the current one where nothing is planted. */
    public Book book(@Nullable Integer asked) {
        Book book = reading.execute(status -> {
            List<Integer> seasons = seasons();
            int season = asked != null && seasons.contains(asked)
                    ? asked
                    : seasons.isEmpty()
                            ? Seasons.of(vineyards.today(), vineyards.current().southern())
                            : seasons.get(0);
            Span span = span(season);
            List<Labour> labour = labour(span);
            return new Book(
                    season,
                    seasons,
                    events(span),
                    labour,
                    sums(season, span, labour),
                    cost.planned(span, sum(labour.stream().map(l -> orZero(l.planned())))));
        });
        return java.util.Objects.requireNonNull(book);
    }

    /** Every season of this vineyard and of the others that the current person owns, this vineyard's first. */
    public List<Sums> compared() {
        List<Sums> all = new ArrayList<>(sumsOfVineyard());
        UUID here = Tenancy.require();
        UUID account = Tenancy.accountOrNull();
        if (account != null) {
            for (Owned owned : owned(account)) {
                if (!owned.id().equals(here)) {
                    all.addAll(Tenancy.as(owned.id(), account, this::sumsOfVineyard));
                }
            }
        }
        return all;
    }

    private List<Owned> owned(UUID account) {
        return jdbc.sql("""
                        select v.id, v.slug, v.name from membership m join vineyard v on v.id = m.vineyard_id
                         where m.account_id = :account and m.role = 'OWNER' and m.ended_at is null and v.closed_at is null
                         order by v.name, v.id limit :most
                        """)
                .param("account", account)
                .param("most", MOST_VINEYARDS)
                .query((row, n) ->
                        new Owned(row.getObject("id", UUID.class), row.getString("slug"), row.getString("name")))
                .list();
    }

    private List<Sums> sumsOfVineyard() {
        List<Sums> sums = reading.execute(status -> seasons().stream()
                .limit(MOST_SEASONS)
                .map(season -> sums(season, span(season), labour(span(season))))
                .toList());
        return sums == null ? List.of() : sums;
    }

    private Span span(int season) {
        return Seasons.whole(season, vineyards.current().southern());
    }

    /** Seasons in which a row was planted for the first time, latest first. */
    private List<Integer> seasons() {
        boolean south = vineyards.current().southern();
        return jdbc
                .sql("select distinct min(planted_on) from planting where undone_on is null group by row_id")
                .query(LocalDate.class)
                .list()
                .stream()
                .map(day -> Seasons.of(day, south))
                .distinct()
                .sorted(java.util.Comparator.reverseOrder())
                .toList();
    }

    /** In the order of days; what did not happen is missing. */
    private List<Event> events(Span span) {
        return jdbc.sql(ROWS + """
                        , lots as (select distinct p.lot_id from planting p join rows on rows.row_id = p.row_id
                                    where p.undone_on is null and p.planted_on <= :last),
                        found (key, on_day, until_day) as (
                          select 'ordered', min(o.ordered_on), max(o.ordered_on)
                            from lot l join lots on lots.lot_id = l.id
                            join delivery_line d on d.id = l.delivery_line_id
                            join order_line x on x.id = d.order_line_id
                            join nursery_order o on o.id = x.order_id
                          union all
                          select 'received', min(v.received_on), max(v.received_on)
                            from lot l join lots on lots.lot_id = l.id
                            join delivery_line d on d.id = l.delivery_line_id join delivery v on v.id = d.delivery_id
                          union all
                          select 'waiting', min(h.since), max(h.since) from hold h join lots on lots.lot_id = h.lot_id
                          union all
                          select 'work', min(l.on_day), min(l.on_day)
                            from task_log l join task t on t.id = l.task_id join rows on rows.row_id = t.row_id
                           where t.step <> 'PLANT' and l.on_day <= :last and\s""" + STANDS + """
                          union all
                          select 'planted', min(p.planted_on), max(p.planted_on)
                            from planting p join rows on rows.row_id = p.row_id
                           where p.undone_on is null and p.planted_on <= :last
                          union all
                          select 'burst', min(s.seen_on), min(s.seen_on) from stage_record s
                           where s.withdrawn_at is null and s.stage >= 9 and s.seen_on between :first and :last
                             and s.block_id in (select r.block_id from vine_row r join rows on rows.row_id = r.id)
                             and s.seen_on >= (select min(first_on) from rows)
                          union all
                          select 'growing', min(o.seen_on), min(o.seen_on)
                            from vine_observation o join rows on rows.row_id = o.row_id
                           where o.state = 'GROWING' and o.withdrawn_at is null and o.seen_on between first_on and :last
                          union all
                          select 'chosen', min(s.seen_on), max(s.seen_on)
                            from shoot_record s join rows on rows.row_id = s.row_id
                           where s.chosen and s.withdrawn_at is null and s.seen_on between first_on and :last
                          union all
                          select 'pruned', min(c.done_on), max(c.done_on)
                            from care_tick c join rows on rows.row_id = c.row_id
                            join care_item i on i.id = c.item_id
                           where i.code = 'first-pruning' and c.withdrawn_at is null
                             and c.done_on between first_on and :pruned)
                        select key, on_day, until_day from found where on_day is not null order by on_day, until_day, key
                        """)
                .params(params(span))
                .param("pruned", span.last().plusMonths(6))
                .query((row, n) -> new Event(
                        row.getString("key"),
                        row.getObject("on_day", LocalDate.class),
                        row.getObject("until_day", LocalDate.class)))
                .list();
    }

    static Map<String, Object> params(Span span) {
        return new HashMap<>(Map.of("first", span.first(), "last", span.last()));
    }

    private record Work(int quantity, int done, int minutes) {
        Work plus(Work other) {
            return new Work(quantity + other.quantity, done + other.done, minutes + other.minutes);
        }
    }

    /** By kind of work, in the order of the steps. */
    private List<Labour> labour(Span span) {
        Map<String, Work> byStep = new TreeMap<>();
        jdbc.sql(ROWS + """
                        select step, sum(quantity) as quantity, sum(done) as done, sum(minutes) as minutes from (
                          select t.step, t.quantity, t.done, 0 as minutes from task t join rows on rows.row_id = t.row_id
                           where t.status <> 'DROPPED' and coalesce(t.ended_on, t.due, first_on) <= :last
                          union all
                          select t.step, 0, 0, coalesce(l.minutes, 0)
                            from task_log l join task t on t.id = l.task_id join rows on rows.row_id = t.row_id
                           where l.on_day <= :last and\s""" + STANDS + """
                        ) w group by step
                        """).params(params(span)).query(row -> {
            byStep.merge(
                    row.getString("step"),
                    new Work(row.getInt("quantity"), row.getInt("done"), row.getInt("minutes")),
                    Work::plus);
        });
        List<Labour> lines = new ArrayList<>();
        for (Step step : steps.all()) {
            Work work = byStep.remove(step.code());
            if (work != null) {
                BigDecimal guess = step.guessMinutes();
                lines.add(new Labour(
                        step.name(),
                        work.quantity(),
                        work.done(),
                        hours(guess, work.quantity()),
                        hours(guess, work.done()),
                        hours(work.minutes())));
            }
        }
        byStep.forEach((code, work) ->
                lines.add(new Labour(code, work.quantity(), work.done(), null, null, hours(work.minutes()))));
        return lines;
    }

    private static @Nullable BigDecimal hours(@Nullable BigDecimal minutesEach, int count) {
        return minutesEach == null
                ? null
                : minutesEach
                        .multiply(BigDecimal.valueOf(count))
                        .divide(BigDecimal.valueOf(60), 1, RoundingMode.HALF_UP);
    }

    private static BigDecimal hours(int minutes) {
        return BigDecimal.valueOf(minutes).divide(BigDecimal.valueOf(60), 1, RoundingMode.HALF_UP);
    }

    private Sums sums(int season, Span span, List<Labour> labour) {
        SeasonCost.Spent spent = cost.spent(season, span);
        Places places = places(span);
        boolean guessed = labour.stream().anyMatch(l -> l.plannedForDone() != null);
        return new Sums(
                vineyards.current().name(),
                vineyards.current().slug(),
                season,
                places.places(),
                places.areaM2(),
                sum(labour.stream().map(Labour::hours)),
                guessed ? sum(labour.stream().map(l -> orZero(l.plannedForDone()))) : null,
                spent.costs(),
                spent.unpricedVines(),
                spent.unpricedPurchases());
    }

    private static BigDecimal sum(Stream<BigDecimal> amounts) {
        return amounts.reduce(BigDecimal.ZERO, BigDecimal::add);
    }

    private static BigDecimal orZero(@Nullable BigDecimal amount) {
        return amount == null ? BigDecimal.ZERO : amount;
    }

    private record Places(int places, double areaM2) {}

    private Places places(Span span) {
        return jdbc.sql(ROWS + """
                        , taken as (select p.row_id, range_agg(p.places) as places
                                      from planting p join rows on rows.row_id = p.row_id
                                     where p.undone_on is null and p.planted_on <= :last group by p.row_id)
                        select coalesce(sum(n.n), 0) as places,
                               coalesce(sum(n.n * b.row_spacing_m * b.vine_spacing_m), 0) as area
                          from taken
                         cross join lateral (select sum(upper(x) - lower(x)) as n from unnest(taken.places) x) n
                          join vine_row r on r.id = taken.row_id join block b on b.id = r.block_id
                        """)
                .params(params(span))
                .query((row, n) -> new Places(row.getInt("places"), row.getDouble("area")))
                .single();
    }
}
