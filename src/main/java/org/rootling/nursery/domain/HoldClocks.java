package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Advice;
import org.rootling.nursery.Allowance;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Level;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.calc.AllowanceKind;
import org.rootling.nursery.calc.HoldCase;
import org.rootling.nursery.calc.HoldCase.Before;
import org.rootling.nursery.calc.HoldCase.Watering;
import org.rootling.nursery.calc.HoldClock;
import org.rootling.nursery.calc.HoldClock.Alternative;
import org.rootling.nursery.calc.HoldClock.Soon;
import org.rootling.nursery.calc.HoldLevel;
import org.rootling.nursery.calc.HoldReading;
import org.rootling.nursery.calc.HoldWeather;
import org.rootling.nursery.calc.Limits;
import org.rootling.platform.Tenancy;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/**
 * Reads the clocks of holds. Pages, the API, the daily job, the mail and the calendar all ask here, so that all say the
 * same.
 */
@Component
class HoldClocks {

    private static final String COLUMNS = """
            h.id, h.lot_id, l.code, l.variety, l.rootstock, h.store_id, s.name, s.kind, s.set_temperature_c, s.soil,
            h.since, h.came_from, d.days_in_transit
            """;
    private static final String JOINS = """
              join store s on s.vineyard_id = h.vineyard_id and s.id = h.store_id
              join lot l on l.vineyard_id = h.vineyard_id and l.id = h.lot_id
              join delivery_line dl on dl.vineyard_id = l.vineyard_id and dl.id = l.delivery_line_id
              join delivery d on d.vineyard_id = dl.vineyard_id and d.id = dl.delivery_id
            """;

    /** Days and dryness turn "soon" by the settings; for warmth also when the run-out is a week away. */
    private static final Soon BY_CLOCK = new Soon(1, 7, 1);

    private static final Comparator<Hold> MOST_PRESSING = Comparator.comparing(Hold::level)
            .reversed()
            .thenComparing(Hold::runsOutOn, Comparator.nullsLast(Comparator.naturalOrder()))
            .thenComparing(Hold::lotCode)
            .thenComparing(Hold::store);

    /** All that a reading rests on: the same gives the same. */
    private record Facts(
            LocalDate on,
            BedWeather.Days days,
            List<Standing> standing,
            Map<UUID, Standing> earlier,
            Map<UUID, List<Watering>> waterings,
            List<ReferenceLists.Limit> limits,
            List<Space> spaces) {}

    /** A store with room for more. */
    private record Space(
            UUID id,
            String name,
            StoreKind kind,
            @Nullable BigDecimal setTemperatureC,
            @Nullable String soil) {}

    private record Read(Facts facts, List<Hold> holds) {}

    private static final int MOST_KEPT = 32;

    private final Map<UUID, Read> kept = Collections.synchronizedMap(new LinkedHashMap<>(16, 0.75f, true) {
        private static final long serialVersionUID = 1;

        @Override
        protected boolean removeEldestEntry(Map.Entry<UUID, Read> eldest) {
            return size() > MOST_KEPT;
        }
    });

    private final JdbcClient jdbc;
    private final ReferenceLists lists;
    private final BedWeather bedWeather;

    HoldClocks(JdbcClient jdbc, ReferenceLists lists, BedWeather bedWeather) {
        this.jdbc = jdbc;
        this.lists = lists;
        this.bedWeather = bedWeather;
    }

    /**
     * All holds that stand now, read at the start of a day; most pressing first. While nothing that they rest on changes,
     * they are not reckoned again.
     */
    @Transactional(readOnly = true)
    public List<Hold> all(LocalDate on) {
        Facts facts = facts(
                jdbc.sql("select " + COLUMNS + """
                                , b.count from lot_balance b
                                join hold h on h.vineyard_id = b.vineyard_id and h.id = b.hold_id
                                """ + JOINS + " where b.account = 'HOLD' and b.count > 0 order by h.id")
                        .query(HoldClocks::standing)
                        .list(),
                on);
        Read known = kept.get(Tenancy.require());
        if (known == null || !known.facts().equals(facts)) {
            known = new Read(facts, read(facts));
            kept.put(Tenancy.require(), known);
        }
        return known.holds();
    }

    /** The holds of one lot as they stood at the end of a day; most pressing first. */
    @Transactional(readOnly = true)
    public List<Hold> ofLot(UUID lot, LocalDate on) {
        return read(facts(
                jdbc.sql("select " + COLUMNS + """
                                , b.count from (
                                  select hold_id, sum(count)::int as count
                                    from (select to_hold as hold_id, count from movement
                                           where lot_id = :lot and to_hold is not null and on_day <= :on
                                          union all
                                          select from_hold, -count from movement
                                           where lot_id = :lot and from_hold is not null and on_day <= :on) e
                                   group by hold_id) b
                                join hold h on h.id = b.hold_id
                                """ + JOINS + " where b.count > 0")
                        .param("lot", lot)
                        .param("on", on)
                        .query(HoldClocks::standing)
                        .list(),
                on));
    }

    private static Standing standing(ResultSet rs, int n) throws SQLException {
        return new Standing(
                rs.getObject("id", UUID.class),
                rs.getObject("lot_id", UUID.class),
                rs.getString("code"),
                rs.getString("variety"),
                rs.getString("rootstock"),
                rs.getObject("store_id", UUID.class),
                rs.getString("name"),
                StoreKind.valueOf(rs.getString("kind")),
                rs.getBigDecimal("set_temperature_c"),
                rs.getString("soil"),
                rs.getObject("since", LocalDate.class),
                rs.getObject("came_from", UUID.class),
                rs.getObject("days_in_transit", Integer.class),
                rs.getInt("count"));
    }

    private Facts facts(List<Standing> standing, LocalDate on) {
        if (standing.isEmpty()) {
            return new Facts(on, BedWeather.Days.NONE, standing, Map.of(), Map.of(), List.of(), List.of());
        }
        return new Facts(
                on, bedWeather.around(on), standing, earlier(standing), waterings(standing), lists.limits(), spaces());
    }

    private List<Hold> read(Facts facts) {
        if (facts.standing().isEmpty()) {
            return List.of();
        }
        Reading reading = new Reading(facts);
        return facts.standing().stream().map(reading::of).sorted(MOST_PRESSING).toList();
    }

    private List<Space> spaces() {
        return jdbc.sql("""
                        select s.id, s.name, s.kind, s.set_temperature_c, s.soil
                          from store s
                          left join hold h on h.vineyard_id = s.vineyard_id and h.store_id = s.id
                          left join lot_balance b on b.vineyard_id = h.vineyard_id and b.hold_id = h.id
                               and b.account = 'HOLD'
                         where s.withdrawn_at is null and s.kind <> 'POTTED'
                         group by s.vineyard_id, s.id
                        having s.capacity is null or s.capacity > coalesce(sum(b.count), 0)
                         order by s.id
                        """)
                .query((rs, n) -> new Space(
                        rs.getObject("id", UUID.class),
                        rs.getString("name"),
                        StoreKind.valueOf(rs.getString("kind")),
                        rs.getBigDecimal("set_temperature_c"),
                        rs.getString("soil")))
                .list();
    }

    /** The holds that vines stood in before, with those before them. */
    private Map<UUID, Standing> earlier(List<Standing> standing) {
        Map<UUID, Standing> found = new HashMap<>();
        Set<UUID> wanted = cameFrom(standing);
        while (!wanted.isEmpty()) {
            List<Standing> next = jdbc.sql(
                            "select " + COLUMNS + ", 0 as count from hold h" + JOINS + " where h.id in (:ids)")
                    .param("ids", wanted)
                    .query(HoldClocks::standing)
                    .list();
            next.forEach(s -> found.put(s.id(), s));
            wanted = cameFrom(next);
            wanted.removeAll(found.keySet());
        }
        return found;
    }

    private static Set<UUID> cameFrom(Collection<Standing> standing) {
        Set<UUID> ids = new HashSet<>();
        for (Standing s : standing) {
            if (s.cameFrom() != null) {
                ids.add(s.cameFrom());
            }
        }
        return ids;
    }

    private Map<UUID, List<Watering>> waterings(List<Standing> standing) {
        Map<UUID, List<Watering>> byStore = new HashMap<>();
        jdbc.sql("""
                        select store_id, on_day, mm from watering
                         where withdrawn_at is null and store_id in (:stores) and on_day >= :since
                         order by on_day, id
                        """)
                .param("stores", standing.stream().map(Standing::storeId).collect(java.util.stream.Collectors.toSet()))
                .param(
                        "since",
                        standing.stream()
                                .map(Standing::since)
                                .min(LocalDate::compareTo)
                                .orElseThrow())
                .query((rs, n) -> byStore.computeIfAbsent(rs.getObject("store_id", UUID.class), s -> new ArrayList<>())
                        .add(new Watering(rs.getObject("on_day", LocalDate.class), mm(rs))))
                .list();
        return byStore;
    }

    private static @Nullable Double mm(ResultSet rs) throws SQLException {
        double mm = rs.getDouble("mm");
        return rs.wasNull() ? null : mm;
    }

    /** A store that vines could be moved to. */
    private record Refuge(UUID id, String name, StoreKind kind, Limits limits) {}

    /** One round of reading: what all holds share is fetched once. */
    private final class Reading {
        private final Map<UUID, Standing> earlier;
        private final Map<UUID, List<Watering>> waterings;
        private final BedWeather.Days days;
        private final HoldWeather weather;
        private final StoreRules rules;
        private final List<Refuge> refuges;

        Reading(Facts facts) {
            this.earlier = facts.earlier();
            this.waterings = facts.waterings();
            this.days = facts.days();
            this.weather = days.asOf(facts.on());
            this.rules = new StoreRules(facts.limits(), lists);
            this.refuges = facts.spaces().stream()
                    .map(s -> new Refuge(
                            s.id(),
                            s.name(),
                            s.kind(),
                            rules.of(s.kind(), s.setTemperatureC(), s.soil(), weather.known())))
                    .toList();
        }

        Hold of(Standing s) {
            HoldCase hold = caseOf(s);
            List<Alternative> alternatives = refuges.stream()
                    .filter(r -> !r.id().equals(s.storeId()) && r.kind() != s.kind())
                    .map(r -> new Alternative(r.name(), r.limits()))
                    .toList();
            HoldReading reading = HoldClock.read(hold, weather, BY_CLOCK, alternatives);
            List<Allowance> allowances =
                    reading.allowances().stream().map(a -> allowance(s, a)).toList();
            Level level = allowances.stream()
                    .map(Allowance::level)
                    .max(Comparator.naturalOrder())
                    .orElse(Level.EASY);
            AllowanceKind deciding = reading.deciding();
            return new Hold(
                    s.id(),
                    s.lotId(),
                    s.lotCode(),
                    s.store(),
                    s.kind(),
                    s.count(),
                    s.since(),
                    allowances,
                    level,
                    reading.runsOutOn(),
                    deciding == null ? "" : word(deciding),
                    word(reading.basis()),
                    reading.unknown().stream().map(HoldClocks::word).toList(),
                    reading.choices().stream()
                            .map(c -> new Advice(word(c.action()), c.where(), c.runsOutOn(), c.gainDays()))
                            .toList(),
                    s.storeId(),
                    s.variety(),
                    s.rootstock());
        }

        private HoldCase caseOf(Standing s) {
            Limits limits = limits(s, weather);
            Standing before = s.cameFrom() == null ? null : earlier.get(s.cameFrom());
            List<Before> history;
            if (before != null) {
                HoldWeather then = days.asOf(s.since());
                Limits there = limits(before, then);
                HoldCase left = new HoldCase(before.since(), historyOf(before), there, List.of());
                history = HoldClock.moved(left, limits, then).before();
            } else {
                history = transit(s);
            }
            return new HoldCase(s.since(), history, limits, waterings.getOrDefault(s.storeId(), List.of()));
        }

        private List<Before> historyOf(Standing s) {
            return s.cameFrom() == null ? transit(s) : caseOf(s).before();
        }

        private List<Before> transit(Standing s) {
            Integer days = s.daysInTransit();
            return days == null || days == 0
                    ? List.of()
                    : List.of(new Before("", days, rules.transitWeight(s.kind()), 0));
        }

        private Limits limits(Standing s, HoldWeather seen) {
            return rules.of(s.kind(), s.setTemperatureC(), s.soil(), seen.known());
        }

        private Allowance allowance(Standing s, HoldReading.Allowance a) {
            return new Allowance(
                    word(a.kind()),
                    a.used(),
                    a.allowed(),
                    a.unit(),
                    a.share(),
                    a.runsOutOn(),
                    a.runsOutMiddle(),
                    a.runsOutLatest(),
                    word(a.basis()),
                    a.years(),
                    a.estimatedDays(),
                    level(s, a));
        }

        /** Over is the clock's; soon is the setting's, and for warmth and soil water also the clock's look ahead. */
        private Level level(Standing s, HoldReading.Allowance a) {
            if (a.level() == HoldLevel.OVER) {
                return Level.OVER;
            }
            boolean looksAhead = a.kind() == AllowanceKind.WARMTH || "mm".equals(a.unit());
            double warnAt = switch (a.kind()) {
                case DAYS -> rules.warnAt(s.kind(), "days");
                case WARMTH -> rules.warnAt(s.kind(), "warmth");
                case DRYNESS ->
                    switch (a.unit()) {
                        case "mm" -> rules.warnAt(s.kind(), "dryness") / 100 * a.allowed();
                        case "hours" -> rules.warnAt(s.kind(), "dryness");
                        default -> rules.warnAt(s.kind(), "watering");
                    };
            };
            boolean soon = a.used() >= warnAt || (looksAhead && a.level() == HoldLevel.SOON);
            return soon ? Level.SOON : Level.EASY;
        }
    }

    private static String word(Enum<?> value) {
        return value.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
