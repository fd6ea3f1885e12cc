package org.rootling.training.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.people.Vineyards;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.platform.Stale;
import org.rootling.training.calc.YoungVineWater;
import org.rootling.weather.Weather;
import org.rootling.weather.calc.SoilType;
import org.rootling.weather.calc.WeatherDay;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The water account of a block's young vines. */
@Service
@Transactional
public class BlockWater {

    /** How many days ahead the account looks. */
    public static final int DAYS_AHEAD = 14;

    /** Days of a hot week. */
    public static final int WEEK = 7;

    /** Planting days with an account of their own, the latest; older ones are reckoned with the oldest of these. */
    private static final int MOST_DAYS = 12;

    /**
     * What the account rests on.
     *
     * @param areaM2 ground that one young vine drinks from, m²
     * @param hoseLitresPerMinute flow of the hose used
     * @param tankLitres content of the tank used
     * @param customary whether nobody has set them yet
     */
    public record Settings(
            SoilType soil,
            double areaM2,
            double hoseLitresPerMinute,
            double tankLitres,
            boolean customary,
            int version) {

        /** Half a square metre, a garden hose, a small tank: rules of thumb, no source. */
        static final Settings CUSTOMARY = new Settings(SoilType.LOAM, 0.5, 15, 1000, true, 0);
    }

    /** A recorded watering. */
    public record Watering(
            UUID id,
            LocalDate on,
            double litresPerVine,
            UUID by,
            @Nullable String note) {}

    /** How much water, and how long it takes to bring it. */
    public record Need(double litresPerVine, int vines, double hoseLitresPerMinute, double tankLitres) {

        /** Litres for all vines. */
        public double litres() {
            return litresPerVine * vines;
        }

        /** Minutes of the hose for all vines. */
        public double minutes() {
            return litres() / hoseLitresPerMinute;
        }

        /** Tank loads for all vines, whole ones. */
        public int loads() {
            return (int) Math.ceil(litres() / tankLitres);
        }
    }

    /**
     * The account of the vines of one planting day, today and ahead.
     *
     * @param older whether vines planted before that day are counted with them
     * @param today at the end of yesterday, as the day begins; null without a single day of weather
     * @param runsLow first day ahead at whose end water runs low, within {@link #DAYS_AHEAD} days
     * @param unknownDays days since planting without a weather record, counted as dry and without demand
     * @param ahead the coming days, from forecast where there is one, else the usual weather
     */
    public record Account(
            Settings settings,
            int vines,
            LocalDate plantedOn,
            boolean older,
            YoungVineWater.@Nullable State today,
            @Nullable LocalDate runsLow,
            int unknownDays,
            List<YoungVineWater.State> ahead) {

        /** Whether weather is on record for at least half of the days since planting; below, no figure is worth showing. */
        public boolean reliable() {
            return today != null && unknownDays * 2L <= ChronoUnit.DAYS.between(plantedOn, today.date()) + 1;
        }

        /** What fills the ground of the vines now. */
        public Need now() {
            return need(today);
        }

        /** What fills it at the end of a week from today, if nobody waters until then. */
        public Need inAWeek() {
            return need(ahead.size() < WEEK ? null : ahead.get(WEEK - 1));
        }

        private Need need(YoungVineWater.@Nullable State state) {
            return new Need(
                    state == null ? 0 : state.litresToFill(settings.areaM2()),
                    vines,
                    settings.hoseLitresPerMinute(),
                    settings.tankLitres());
        }
    }

    private final JdbcClient jdbc;
    private final Weather weather;
    private final Vines vines;
    private final Ground ground;
    private final Vineyards vineyards;

    BlockWater(JdbcClient jdbc, Weather weather, Vines vines, Ground ground, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.weather = weather;
        this.vines = vines;
        this.ground = ground;
        this.vineyards = vineyards;
    }

    /**
     * The accounts of a block, one for each planting day, the latest first; none where no vine lives. Waterings that
     * somebody planned for the days ahead are not part of it.
     *
     * @param hotEt0Mm reference evapotranspiration of each day ahead as for a hot week, or null for what is foretold
     */
    @Transactional(readOnly = true)
    public List<Account> accounts(UUID blockId, @Nullable Double hotEt0Mm) {
        TreeMap<LocalDate, Integer> living = new TreeMap<>(vines.livingByDay(blockId));
        if (living.isEmpty()) {
            return List.of();
        }
        int older = 0;
        List<LocalDate> plantingDays = List.copyOf(living.keySet());
        for (LocalDate day : plantingDays.subList(0, Math.max(0, plantingDays.size() - MOST_DAYS))) {
            older += living.getOrDefault(day, 0);
            living.remove(day);
        }
        if (older > 0) {
            living.merge(living.firstKey(), older, Integer::sum);
        }
        LocalDate today = vineyards.today();
        LocalDate end = today.plusDays(DAYS_AHEAD - 1L);
        Settings settings = settings(blockId);
        Map<LocalDate, Double> watered = new HashMap<>();
        waterings(blockId).forEach(w -> watered.merge(w.on(), w.litresPerVine() / settings.areaM2(), Double::sum));
        Map<LocalDate, WeatherDay> known = byDate(weather.days(living.firstKey(), end));
        Map<LocalDate, WeatherDay> usual = byDate(weather.normals(today, end));
        List<Account> accounts = new ArrayList<>();
        for (Map.Entry<LocalDate, Integer> one : living.descendingMap().entrySet()) {
            LocalDate planted = one.getKey();
            List<YoungVineWater.Day> days = new ArrayList<>();
            int unknown = 0;
            for (LocalDate date = planted; !date.isAfter(end); date = date.plusDays(1)) {
                boolean ahead = !date.isBefore(today);
                WeatherDay day = known.get(date);
                if (day == null && ahead) {
                    day = usual.get(date);
                }
                if (day == null && !ahead) {
                    unknown++;
                }
                double watering = watered.getOrDefault(date, 0.0);
                if (ahead && hotEt0Mm != null) {
                    days.add(new YoungVineWater.Day(date, 0, hotEt0Mm, watering, true));
                } else {
                    double rain = day == null ? 0 : day.rainMm();
                    double et0 = day == null ? 0 : day.et0Mm();
                    days.add(new YoungVineWater.Day(date, rain, et0, watering, ahead));
                }
            }
            boolean withOlder = older > 0 && planted.equals(living.firstKey());
            accounts.add(account(settings, one.getValue(), planted, withOlder, days, unknown, today));
        }
        return accounts;
    }

    private static Account account(
            Settings settings,
            int vines,
            LocalDate planted,
            boolean older,
            List<YoungVineWater.Day> days,
            int unknown,
            LocalDate today) {
        YoungVineWater.Soil soil = new YoungVineWater.Soil(
                settings.soil().fieldCapacity(), settings.soil().wiltingPoint());
        List<YoungVineWater.State> states = YoungVineWater.run(YoungVineWater.Vine.YOUNG, soil, planted, 0, days);
        List<YoungVineWater.State> past =
                states.stream().filter(s -> !s.forecast()).toList();
        List<YoungVineWater.State> ahead =
                states.stream().filter(YoungVineWater.State::forecast).toList();
        YoungVineWater.State now = past.isEmpty() ? (ahead.isEmpty() ? null : ahead.get(0)) : past.get(past.size() - 1);
        return new Account(
                settings,
                vines,
                planted,
                older,
                now,
                YoungVineWater.runsLow(ahead, today).orElse(null),
                unknown,
                ahead);
    }

    /** What all accounts need together; empty where there is none. */
    public static Optional<Need> together(List<Need> needs) {
        int vines = needs.stream().mapToInt(Need::vines).sum();
        double litres = needs.stream().mapToDouble(Need::litres).sum();
        return needs.stream()
                .findFirst()
                .map(one -> new Need(litres / vines, vines, one.hoseLitresPerMinute(), one.tankLitres()));
    }

    private static Map<LocalDate, WeatherDay> byDate(List<WeatherDay> days) {
        Map<LocalDate, WeatherDay> byDate = new HashMap<>();
        days.forEach(d -> byDate.put(d.date(), d));
        return byDate;
    }

    @Transactional(readOnly = true)
    public Settings settings(UUID blockId) {
        return jdbc.sql("select soil, area_m2, hose_l_min, tank_l, version from block_water where block_id = :block")
                .param("block", blockId)
                .query((rs, n) -> new Settings(
                        SoilType.valueOf(rs.getString("soil")),
                        rs.getDouble("area_m2"),
                        rs.getDouble("hose_l_min"),
                        rs.getDouble("tank_l"),
                        false,
                        rs.getInt("version")))
                .optional()
                .orElse(Settings.CUSTOMARY);
    }

    /** Sets what the account rests on. */
    public void set(UUID blockId, SoilType soil, BigDecimal areaM2, BigDecimal hose, BigDecimal tank, int version) {
        requireBlock(blockId);
        Settings before = settings(blockId);
        String sql = before.customary() ? """
                  insert into block_water (id, block_id, soil, area_m2, hose_l_min, tank_l)
                  values (:id, :block, :soil, :area, :hose, :tank) on conflict do nothing""" : """
                  update block_water set soil = :soil, area_m2 = :area, hose_l_min = :hose, tank_l = :tank,
                    version = version + 1
                  where block_id = :block and version = :version""";
        int changed = jdbc.sql(sql)
                .param("id", Ids.next())
                .param("block", blockId)
                .param("soil", soil.name())
                .param("area", areaM2)
                .param("hose", hose)
                .param("tank", tank)
                .param("version", version)
                .update();
        if (changed == 0) {
            throw new Stale(version, before.version());
        }
    }

    /** Records a watering of the whole block. */
    public void water(UUID blockId, LocalDate on, BigDecimal litresPerVine, @Nullable String note, UUID by) {
        requireBlock(blockId);
        if (on.isAfter(vineyards.today())) {
            throw new Refused("training.date.ahead").at("on");
        }
        jdbc.sql("""
                        insert into field_watering (id, block_id, done_on, litres_per_vine, done_by, note)
                        values (:id, :block, :on, :litres, :by, :note)""")
                .param("id", Ids.next())
                .param("block", blockId)
                .param("on", on)
                .param("litres", litresPerVine)
                .param("by", by)
                .param("note", note == null || note.isBlank() ? null : note.strip())
                .update();
    }

    /** Takes a watering back. */
    public void withdrawWatering(UUID id) {
        int changed = jdbc.sql("""
                        update field_watering set withdrawn_at = now(), version = version + 1
                        where id = :id and withdrawn_at is null""").param("id", id).update();
        if (changed == 0) {
            throw new NotFound("watering");
        }
    }

    /** Latest first. */
    @Transactional(readOnly = true)
    public List<Watering> waterings(UUID blockId) {
        return jdbc.sql("""
                        select id, done_on, litres_per_vine, done_by, note from field_watering
                        where block_id = :block and withdrawn_at is null order by done_on desc, recorded_at desc""")
                .param("block", blockId)
                .query((rs, n) -> new Watering(
                        rs.getObject("id", UUID.class),
                        rs.getObject("done_on", LocalDate.class),
                        rs.getDouble("litres_per_vine"),
                        rs.getObject("done_by", UUID.class),
                        rs.getString("note")))
                .list();
    }

    private void requireBlock(UUID blockId) {
        if (ground.block(blockId).isEmpty()) {
            throw new NotFound("block");
        }
    }
}
