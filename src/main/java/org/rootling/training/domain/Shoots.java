package org.rootling.training.domain;

import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyards;
import org.rootling.planting.PlaceSets;
import org.rootling.planting.Vine;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.platform.Refused;
import org.rootling.platform.UnitText;
import org.rootling.training.ShootCount;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Shoots and heights of vines, a whole row at a time. */
@Service
@Transactional
public class Shoots {

    /** More shoots than this on a young vine is a slip of the finger. */
    public static final int MOST_SHOOTS = 40;

    /** Taller than this, in cm, is a slip of the finger or a height in another unit. */
    public static final int TALLEST_CM = 500;

    /** What was seen of one vine; what is null was not looked at. */
    public record Seen(@Nullable Integer shoots, @Nullable Integer heightCm, boolean chosen) {

        boolean empty() {
            return shoots == null && heightCm == null && !chosen;
        }
    }

    private static final String COUNT =
            "select vine_id, place, seen_on, seen_by, shoots, height_cm, chosen from shoot_record where withdrawn_at is null ";

    private final JdbcClient jdbc;
    private final Vines vines;
    private final Vineyards vineyards;
    private final UnitText units;

    Shoots(JdbcClient jdbc, Vines vines, Vineyards vineyards, UnitText units) {
        this.jdbc = jdbc;
        this.vines = vines;
        this.vineyards = vineyards;
        this.units = units;
    }

    /** Records what was seen, by place, all or nothing. A second look on the same day replaces the first. */
    public void record(UUID rowId, Map<Integer, Seen> seen, LocalDate on, UUID by) {
        if (on.isAfter(vineyards.today())) {
            throw new Refused("training.date.ahead").at("on");
        }
        Map<Integer, Vine> standing = vines.inRow(rowId).stream().collect(Collectors.toMap(Vine::place, v -> v));
        for (Map.Entry<Integer, Seen> one : new TreeMap<>(seen).entrySet()) {
            if (one.getValue().empty()) {
                continue;
            }
            Vine vine = standing.get(one.getKey());
            if (vine == null || !vine.state().alive()) {
                throw new Refused("training.shoots.no-living-vine", PlaceSets.words(List.of(one.getKey())));
            }
            if (on.isBefore(vine.plantedOn())) {
                throw new Refused("training.shoots.before-planting", one.getKey()).at("on");
            }
            requireSane(one.getKey(), one.getValue());
            write(vine, one.getValue(), on, by);
        }
    }

    private void requireSane(int place, Seen seen) {
        if (seen.shoots() != null && (seen.shoots() < 0 || seen.shoots() > MOST_SHOOTS)) {
            throw new Refused("training.shoots.too-many", place, MOST_SHOOTS);
        }
        if (seen.heightCm() != null && (seen.heightCm() < 0 || seen.heightCm() > TALLEST_CM)) {
            throw new Refused("training.shoots.too-tall", place, units.height(TALLEST_CM, 0));
        }
        if (seen.chosen() && seen.shoots() != null && seen.shoots() == 0) {
            throw new Refused("training.shoots.chosen-of-none", place);
        }
    }

    private void write(Vine vine, Seen seen, LocalDate on, UUID by) {
        jdbc.sql("""
                        update shoot_record set withdrawn_at = now()
                        where vine_id = :vine and seen_on = :on and withdrawn_at is null""").param("vine", vine.id()).param("on", on).update();
        jdbc.sql("""
                        insert into shoot_record (id, vine_id, row_id, block_id, place, seen_on, seen_by, shoots, height_cm, chosen)
                        values (:id, :vine, :row, :block, :place, :on, :by, :shoots, :height, :chosen)""")
                .param("id", Ids.next())
                .param("vine", vine.id())
                .param("row", vine.rowId())
                .param("block", vine.blockId())
                .param("place", vine.place())
                .param("on", on)
                .param("by", by)
                .param("shoots", seen.shoots())
                .param("height", seen.heightCm())
                .param("chosen", seen.chosen())
                .update();
    }

    /** The latest record of each present vine of a row, by vine id. */
    @Transactional(readOnly = true)
    public Map<UUID, ShootCount> latest(UUID rowId) {
        return jdbc.sql("""
                        select distinct on (s.vine_id) s.vine_id, s.place, s.seen_on, s.seen_by, s.shoots, s.height_cm, s.chosen
                        from shoot_record s where s.row_id = :row and s.withdrawn_at is null
                        order by s.vine_id, s.seen_on desc""").param("row", rowId).query(Shoots::count).list().stream()
                .collect(Collectors.toMap(ShootCount::vineId, c -> c));
    }

    /** Latest first. */
    @Transactional(readOnly = true)
    public List<ShootCount> ofVine(UUID vineId) {
        return jdbc.sql(COUNT + "and vine_id = :vine order by seen_on desc")
                .param("vine", vineId)
                .query(Shoots::count)
                .list();
    }

    private static ShootCount count(ResultSet rs, int n) throws SQLException {
        return new ShootCount(
                rs.getObject("vine_id", UUID.class),
                rs.getInt("place"),
                rs.getObject("seen_on", LocalDate.class),
                rs.getObject("seen_by", UUID.class),
                rs.getObject("shoots", Integer.class),
                rs.getObject("height_cm", Integer.class),
                rs.getBoolean("chosen"));
    }
}
