package org.rootling.training.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.people.Vineyards;
import org.rootling.planting.LotTally;
import org.rootling.planting.Tally;
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

    /**
     * The account today and ahead.
     *
     * @param today at the end of yesterday, as the day begins; null without a single day of weather
     * @param runsLow first day ahead at whose end water runs low, within {@link #DAYS_AHEAD} days
     * @param unknownDays days since planting without a weather record, counted as dry and without demand
     * @param ahead the coming days, from forecast where there is one, else the usual weather
     */
    public record Account(
            Settings settings,
            int vines,
            LocalDate plantedOn,
            YoungVineWater.@Nullable State today,
            @Nullable LocalDate runsLow,
            int unknownDays,
            List<YoungVineWater.State> ahead) {

        /** Whether weather is on record for at least half of the days since planting; below, no figure is worth showing. */
        public boolean reliable() {
            return today != null && unknownDays * 2L <= ChronoUnit.DAYS.between(plantedOn, today.date()) + 1;
        }

        /** Litres that fill one vine's ground now. */
        public double litresPerVine() {
            return today == null ? 0 : today.litresToFill(settings.areaM2());
        }

        /** Litres for all vines. */
        public double litresInAll() {
            return litresPerVine() * vines;
        }

        /** Minutes of the hose for all vines. */
        public double hoseMinutes() {
            return litresInAll() / settings.hoseLitresPerMinute();
        }

        /** Tank loads for all vines, whole ones. */
        public int tankLoads() {
            return (int) Math.ceil(litresInAll() / settings.tankLitres());
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
     * The account of a block; empty where no vine stands. Waterings that somebody planned for the days ahead are not part
     * of it.
     *
     * @param hotEt0Mm reference evapotranspiration of each day ahead as for a hot week, or null for what is foretold
     */
    @Transactional(readOnly = true)
    public Optional<Account> account(UUID blockId, @Nullable Double hotEt0Mm) {
        Tally tally = Tally.sum(vines.lotTallies().stream()
                .filter(t -> t.blockId().equals(blockId))
                .map(LotTally::tally)
                .toList());
        LocalDate planted = tally.lastPlanted();
        if (planted == null || tally.alive() == 0) {
            return Optional.empty();
        }
        LocalDate today = vineyards.today();
        LocalDate end = today.plusDays(DAYS_AHEAD - 1L);
        Settings settings = settings(blockId);
        Map<LocalDate, Double> watered = new HashMap<>();
        waterings(blockId).forEach(w -> watered.merge(w.on(), w.litresPerVine() / settings.areaM2(), Double::sum));
        Map<LocalDate, WeatherDay> known = byDate(weather.days(planted, end));
        Map<LocalDate, WeatherDay> usual = byDate(weather.normals(today, end));
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
        YoungVineWater.Soil soil = new YoungVineWater.Soil(
                settings.soil().fieldCapacity(), settings.soil().wiltingPoint());
        List<YoungVineWater.State> states = YoungVineWater.run(YoungVineWater.Vine.YOUNG, soil, planted, 0, days);
        List<YoungVineWater.State> past =
                states.stream().filter(s -> !s.forecast()).toList();
        List<YoungVineWater.State> ahead =
                states.stream().filter(YoungVineWater.State::forecast).toList();
        YoungVineWater.State now = past.isEmpty() ? (ahead.isEmpty() ? null : ahead.get(0)) : past.get(past.size() - 1);
        return Optional.of(new Account(
                settings,
                tally.alive(),
                planted,
                now,
                YoungVineWater.runsLow(ahead, today).orElse(null),
                unknown,
                ahead));
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
