package org.rootling.training.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Supplier;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.people.Vineyards;
import org.rootling.planting.LotTally;
import org.rootling.planting.Vine;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.training.Stage;
import org.rootling.training.calc.Bbch;
import org.rootling.training.calc.DailySeries;
import org.rootling.training.calc.StageEstimates;
import org.rootling.training.calc.StageOrder;
import org.rootling.training.calc.StageSeen;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Growth stages: what was seen, and what the heat at this site lets expect. */
@Service
@Transactional
public class Stages {

    private static final String STAGE =
            "select id, block_id, vine_id, stage, seen_on, seen_by, note from stage_record where withdrawn_at is null ";

    private final JdbcClient jdbc;
    private final Ground ground;
    private final Vines vines;
    private final Vineyards vineyards;
    private final SiteWeather weather;

    Stages(JdbcClient jdbc, Ground ground, Vines vines, Vineyards vineyards, SiteWeather weather) {
        this.jdbc = jdbc;
        this.ground = ground;
        this.vines = vines;
        this.vineyards = vineyards;
        this.weather = weather;
    }

    /**
     * Records a stage of a block.
     *
     * @param note needed where the stage goes back, for instance a new start after frost
     */
    public void record(UUID blockId, Bbch stage, LocalDate on, @Nullable String note, UUID by) {
        requireBlock(blockId);
        requireNotAhead(on);
        requireOrder(ofBlock(blockId), stage, on, note);
        insert(blockId, null, stage, on, note, by);
    }

    /** Records a stage of one vine. */
    public void recordVine(UUID vineId, Bbch stage, LocalDate on, @Nullable String note, UUID by) {
        Vine vine = vines.byId(vineId).filter(Vine::present).orElseThrow(() -> new NotFound("vine"));
        requireNotAhead(on);
        if (on.isBefore(vine.plantedOn())) {
            throw new Refused("training.stage.before-planting").at("on");
        }
        requireOrder(ofVine(vineId).stream().map(Stages::seen).toList(), stage, on, note);
        insert(vine.blockId(), vineId, stage, on, note, by);
    }

    /** Takes a record back; it stays as withdrawn. */
    public void withdraw(UUID id, UUID by) {
        int changed = jdbc.sql("""
                        update stage_record set withdrawn_at = now(), withdrawn_by = :by, version = version + 1
                        where id = :id and withdrawn_at is null""").param("id", id).param("by", by).update();
        if (changed == 0) {
            throw new NotFound("stage record");
        }
    }

    private void insert(UUID blockId, @Nullable UUID vineId, Bbch stage, LocalDate on, @Nullable String note, UUID by) {
        jdbc.sql("""
                        insert into stage_record (id, block_id, vine_id, stage, seen_on, seen_by, note)
                        values (:id, :block, :vine, :stage, :on, :by, :note)""")
                .param("id", Ids.next())
                .param("block", blockId)
                .param("vine", vineId)
                .param("stage", stage.code())
                .param("on", on)
                .param("by", by)
                .param("note", note == null || note.isBlank() ? null : note.strip())
                .update();
    }

    private void requireNotAhead(LocalDate on) {
        if (on.isAfter(vineyards.today())) {
            throw new Refused("training.date.ahead").at("on");
        }
    }

    private void requireOrder(List<StageSeen> seen, Bbch stage, LocalDate on, @Nullable String note) {
        if (note != null && !note.isBlank()) {
            return;
        }
        LocalDate season = seasonStart(on);
        List<StageSeen> sameSeason =
                seen.stream().filter(s -> seasonStart(s.on()).equals(season)).toList();
        Optional<StageSeen> other = StageOrder.contradiction(sameSeason, stage, on);
        if (other.isPresent()) {
            throw new Refused(
                            "training.stage.goes-back",
                            other.get().stage().toString(),
                            other.get().on())
                    .at("stage");
        }
    }

    /** 1 January north, 1 July south. */
    LocalDate seasonStart(LocalDate day) {
        if (!vineyards.current().southern()) {
            return day.withDayOfYear(1);
        }
        LocalDate july = LocalDate.of(day.getYear(), 7, 1);
        return day.isBefore(july) ? july.minusYears(1) : july;
    }

    /** Latest first. */
    @Transactional(readOnly = true)
    public List<Stage> recorded(UUID blockId) {
        return jdbc.sql(STAGE + "and block_id = :block and vine_id is null order by seen_on desc, recorded_at desc")
                .param("block", blockId)
                .query(Stages::stage)
                .list();
    }

    /** Latest first. */
    @Transactional(readOnly = true)
    public List<Stage> ofVine(UUID vineId) {
        return jdbc.sql(STAGE + "and vine_id = :vine order by seen_on desc, recorded_at desc")
                .param("vine", vineId)
                .query(Stages::stage)
                .list();
    }

    List<StageSeen> ofBlock(UUID blockId) {
        return recorded(blockId).stream().map(Stages::seen).toList();
    }

    Map<UUID, List<StageSeen>> byBlock() {
        return jdbc.sql(STAGE + "and vine_id is null order by seen_on").query(Stages::stage).list().stream()
                .collect(Collectors.groupingBy(Stage::blockId, Collectors.mapping(Stages::seen, Collectors.toList())));
    }

    /**
     * What this site's heat sums say of the stages, learned from every stage ever recorded here. Sums run from the
     * beginning of the season, or from planting where that came later.
     */
    StageEstimates learned() {
        return learned(byBlock(), vines::lotTallies);
    }

    /** The same for whoever has read what was seen, and perhaps what was planted. */
    StageEstimates learned(Map<UUID, List<StageSeen>> byBlock, Supplier<List<LotTally>> tallies) {
        record First(UUID blockId, LocalDate season, Bbch stage) {}
        Map<First, LocalDate> seen = new HashMap<>();
        byBlock.forEach((block, stages) -> stages.forEach(one -> seen.merge(
                new First(block, seasonStart(one.on()), one.stage()), one.on(), (a, b) -> a.isBefore(b) ? a : b)));
        Optional<LocalDate> earliest = seen.keySet().stream().map(First::season).min(Comparator.naturalOrder());
        if (earliest.isEmpty()) {
            return new StageEstimates(List.of());
        }
        Map<UUID, LocalDate> planted = new HashMap<>();
        for (LotTally tally : tallies.get()) {
            LocalDate first = tally.tally().firstPlanted();
            if (first != null) {
                planted.merge(tally.blockId(), first, (a, b) -> a.isBefore(b) ? a : b);
            }
        }
        DailySeries heat = weather.since(earliest.get(), vineyards.today()).heat();
        return new StageEstimates(seen.entrySet().stream()
                .map(e -> {
                    First first = e.getKey();
                    LocalDate from = later(first.season(), planted.getOrDefault(first.blockId(), first.season()));
                    return new StageEstimates.Learned(first.stage(), heat.sum(from, e.getValue()));
                })
                .filter(l -> l.heatSum() > 0)
                .toList());
    }

    /** The stages that the heat since planting lets expect this season, marked as estimates. */
    List<StageSeen> expected(StageEstimates learned, DailySeries heat, LocalDate planted, LocalDate today) {
        return learned.reached(heat, later(planted, seasonStart(today)), today);
    }

    /** The stage that the heat lets expect in a block today, where this site has taught it and vines stand there. */
    @Transactional(readOnly = true)
    public Optional<Bbch> estimate(UUID blockId) {
        Optional<LocalDate> planted = vines.lotTallies().stream()
                .filter(t -> t.blockId().equals(blockId) && t.tally().present() > 0)
                .map(t -> t.tally().firstPlanted())
                .filter(Objects::nonNull)
                .min(Comparator.naturalOrder());
        LocalDate today = vineyards.today();
        return planted.flatMap(first -> {
            LocalDate from = later(first, seasonStart(today));
            return learned().at(weather.since(from, today).heat().sum(from, today));
        });
    }

    private static LocalDate later(LocalDate a, LocalDate b) {
        return a.isAfter(b) ? a : b;
    }

    private static StageSeen seen(Stage stage) {
        return new StageSeen(stage.stage(), stage.on(), false);
    }

    private static Stage stage(ResultSet rs, int n) throws SQLException {
        return new Stage(
                rs.getObject("id", UUID.class),
                rs.getObject("block_id", UUID.class),
                rs.getObject("vine_id", UUID.class),
                new Bbch(rs.getInt("stage")),
                rs.getObject("seen_on", LocalDate.class),
                rs.getObject("seen_by", UUID.class),
                rs.getString("note"));
    }

    private void requireBlock(UUID blockId) {
        if (ground.block(blockId).isEmpty()) {
            throw new NotFound("block");
        }
    }
}
