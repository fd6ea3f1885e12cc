package org.rootling.review.domain;

import java.io.BufferedWriter;
import java.io.IOException;
import java.io.OutputStream;
import java.io.OutputStreamWriter;
import java.io.UncheckedIOException;
import java.io.Writer;
import java.nio.charset.StandardCharsets;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumSet;
import java.util.HashMap;
import java.util.Iterator;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.stream.Stream;
import javax.sql.DataSource;
import net.sf.geographiclib.Geodesic;
import net.sf.geographiclib.GeodesicData;
import org.jspecify.annotations.Nullable;
import org.rootling.exchange.Sheet;
import org.rootling.exchange.Spreadsheets;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.people.Members;
import org.rootling.planting.RowTally;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.review.calc.SurvivalCurve;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.databind.json.JsonMapper;

/** The numbers behind the review as files. Vines are read from a cursor, so that a million of them need no memory. */
@Service
@Transactional(readOnly = true)
public class Exports {

    private static final int FETCH = 2000;

    /** Rows have a sheet of their own. */
    private static final List<Establishment.By> WHOLE =
            List.copyOf(EnumSet.complementOf(EnumSet.of(Establishment.By.ROW)));

    private static final JsonMapper JSON = JsonMapper.builder().build();

    private static final String VINES = """
            select v.id, b.code as block, r.number as row_number, v.row_id, v.place, l.code as lot, l.variety, l.clone_name,
                   l.rootstock, v.planted_on, v.planted_by, v.state, v.state_on, v.ended_on, v.ended_how
              from vine v
              join block b on b.vineyard_id = v.vineyard_id and b.id = v.block_id
              join vine_row r on r.vineyard_id = v.vineyard_id and r.id = v.row_id
              join lot l on l.vineyard_id = v.vineyard_id and l.id = v.lot_id
            """;

    private final JdbcTemplate jdbc;
    private final Ground ground;
    private final Vines vines;
    private final Members members;
    private final Establishment establishment;
    private final Register register;
    private final VineQueries queries;
    private final SeasonBook seasons;

    Exports(
            DataSource database,
            Ground ground,
            Vines vines,
            Members members,
            Establishment establishment,
            Register register,
            VineQueries queries,
            SeasonBook seasons) {
        this.jdbc = new JdbcTemplate(database);
        this.jdbc.setFetchSize(FETCH);
        this.ground = ground;
        this.vines = vines;
        this.members = members;
        this.establishment = establishment;
        this.register = register;
        this.queries = queries;
        this.seasons = seasons;
    }

    /** Every vine that ever stood, with what became of it. */
    public void vinesCsv(OutputStream out) {
        Map<UUID, String> names = members.names();
        try (Stream<List<@Nullable Object>> rows = jdbc.queryForStream(
                VINES + " order by b.code, r.number, v.place, v.planted_on", (row, n) -> line(row, names))) {
            Spreadsheets.csv(
                    new Sheet(
                            "vines",
                            List.of(
                                    "block",
                                    "row",
                                    "place",
                                    "lot",
                                    "variety",
                                    "clone",
                                    "rootstock",
                                    "planted_on",
                                    "planted_by",
                                    "state",
                                    "seen_on",
                                    "ended_on",
                                    "ended_how",
                                    "id"),
                            rows.iterator()),
                    out);
        }
    }

    private static List<@Nullable Object> line(ResultSet row, Map<UUID, String> names) throws SQLException {
        return Arrays.asList(
                row.getString("block"),
                row.getInt("row_number"),
                row.getInt("place"),
                row.getString("lot"),
                row.getString("variety"),
                row.getString("clone_name"),
                row.getString("rootstock"),
                row.getObject("planted_on", LocalDate.class),
                names.getOrDefault(row.getObject("planted_by", UUID.class), "?"),
                row.getString("state"),
                row.getObject("state_on", LocalDate.class),
                row.getObject("ended_on", LocalDate.class),
                row.getString("ended_how"),
                row.getString("id"));
    }

    /** Every count of shoots and every height, with its vine. */
    public void heightsCsv(OutputStream out) {
        Map<UUID, String> names = members.names();
        try (Stream<List<@Nullable Object>> rows = jdbc.queryForStream(
                """
                        select b.code as block, r.number as row_number, s.place, s.seen_on, s.shoots, s.height_cm, s.chosen,
                               s.seen_by, s.vine_id
                          from shoot_record s
                          join block b on b.vineyard_id = s.vineyard_id and b.id = s.block_id
                          join vine_row r on r.vineyard_id = s.vineyard_id and r.id = s.row_id
                         where s.withdrawn_at is null order by b.code, r.number, s.place, s.seen_on
                        """,
                (row, n) -> Arrays.asList(
                        row.getString("block"),
                        row.getInt("row_number"),
                        row.getInt("place"),
                        row.getObject("seen_on", LocalDate.class),
                        row.getObject("shoots", Integer.class),
                        row.getObject("height_cm", Integer.class),
                        row.getBoolean("chosen"),
                        names.getOrDefault(row.getObject("seen_by", UUID.class), "?"),
                        row.getString("vine_id")))) {
            Spreadsheets.csv(
                    new Sheet(
                            "heights",
                            List.of(
                                    "block",
                                    "row",
                                    "place",
                                    "seen_on",
                                    "shoots",
                                    "height_cm",
                                    "one_shoot_chosen",
                                    "seen_by",
                                    "vine_id"),
                            rows.iterator()),
                    out);
        }
    }

    public void rowsCsv(OutputStream out) {
        Spreadsheets.csv(rows(), out);
    }

    public void gapsCsv(OutputStream out) {
        Spreadsheets.csv(gaps(), out);
    }

    public void registerCsv(OutputStream out) {
        Spreadsheets.csv(registerSheet(), out);
    }

    /** Shares by every grouping, survival, the latest season, rows, planted area and places to replant in one workbook. */
    public void workbook(OutputStream out) {
        List<Sheet> sheets = new ArrayList<>();
        for (Establishment.Review review : establishment.reviews(WHOLE)) {
            sheets.add(shares(review));
            if (review.by() == Establishment.By.LOT) {
                sheets.add(survival(review));
            }
        }
        SeasonBook.Book season = seasons.book(null);
        sheets.add(events(season));
        sheets.add(hours(season));
        sheets.add(rows());
        sheets.add(registerSheet());
        sheets.add(gaps());
        Spreadsheets.xlsx(sheets, out);
    }

    private static Sheet shares(Establishment.Review review) {
        return Sheet.of(
                "by " + review.by().key(),
                List.of(
                        review.by().key(),
                        "planted",
                        "looked_at",
                        "alive",
                        "lost",
                        "not_looked_at",
                        "share",
                        "low_95",
                        "high_95"),
                review.groups().stream()
                        .map(g -> Arrays.<@Nullable Object>asList(
                                g.name(),
                                g.planted(),
                                g.seen(),
                                g.alive(),
                                g.lost(),
                                g.unseen(),
                                g.interval() == null ? null : g.interval().share(),
                                g.interval() == null ? null : g.interval().low(),
                                g.interval() == null ? null : g.interval().high()))
                        .toList());
    }

    private static Sheet survival(Establishment.Review review) {
        List<List<@Nullable Object>> lines = new ArrayList<>();
        for (SurvivalCurve curve : review.curves()) {
            for (SurvivalCurve.Step step : curve.steps()) {
                lines.add(Arrays.<@Nullable Object>asList(
                        curve.group(),
                        step.days(),
                        step.atRisk(),
                        step.events(),
                        step.survival(),
                        step.standardError()));
            }
        }
        return Sheet.of(
                "survival by lot",
                List.of("lot", "days", "under_watch", "died", "share_alive", "standard_error"),
                lines);
    }

    private static Sheet events(SeasonBook.Book season) {
        return Sheet.of(
                "season " + season.season(),
                List.of("event", "from", "until"),
                season.events().stream()
                        .map(e -> Arrays.<@Nullable Object>asList(e.key(), e.on(), e.until()))
                        .toList());
    }

    private static Sheet hours(SeasonBook.Book season) {
        return Sheet.of(
                "hours",
                List.of("work", "places_done", "places", "hours_planned", "hours_planned_for_done", "hours"),
                season.labour().stream()
                        .map(l -> Arrays.<@Nullable Object>asList(
                                l.name(), l.done(), l.quantity(), l.planned(), l.plannedForDone(), l.hours()))
                        .toList());
    }

    private Sheet rows() {
        Map<UUID, String> codes = new HashMap<>();
        ground.blocks().forEach(block -> codes.put(block.id(), block.code()));
        return Sheet.of(
                "rows",
                List.of(
                        "block",
                        "row",
                        "places",
                        "empty",
                        "planted",
                        "growing",
                        "weak",
                        "not_moving",
                        "dead",
                        "missing"),
                vines.tallies().stream().map(row -> rowLine(row, codes)).toList());
    }

    private static List<@Nullable Object> rowLine(RowTally row, Map<UUID, String> codes) {
        List<@Nullable Object> line = new ArrayList<>(
                Arrays.asList(codes.getOrDefault(row.blockId(), "?"), row.number(), row.places(), row.empty()));
        for (VineState state : VineState.values()) {
            line.add(row.tally().of(state));
        }
        return line;
    }

    private Sheet gaps() {
        return Sheet.of(
                "to replant",
                List.of("block", "row", "places", "vines", "variety", "rootstock", "lot"),
                queries.gaps(null, 0, 1_000_000).stream()
                        .map(g -> Arrays.<@Nullable Object>asList(
                                g.block(), g.row(), g.places(), g.vines(), g.variety(), g.rootstock(), g.lot()))
                        .toList());
    }

    private Sheet registerSheet() {
        return Sheet.of(
                "planted area",
                List.of(
                        "block",
                        "name",
                        "variety",
                        "colour",
                        "rootstock",
                        "planted",
                        "vines",
                        "area_by_spacing_m2",
                        "share_of_block_m2",
                        "vines_per_ha"),
                register.lines().stream()
                        .map(l -> Arrays.<@Nullable Object>asList(
                                l.block(),
                                l.blockName(),
                                l.variety(),
                                l.colour(),
                                l.rootstock(),
                                l.years(),
                                l.vines(),
                                l.standAreaM2(),
                                l.blockShareM2(),
                                l.perHectare()))
                        .toList());
    }

    private record Origin(double latitude, double longitude) {}

    /**
     * Every present vine as a GeoJSON feature (RFC 7946). Where the block's place on the earth is known the geometry is
     * its longitude and latitude, otherwise there is none; metres east and north of the block's origin are always there.
     */
    public void vinesGeoJson(OutputStream out) {
        Map<UUID, Origin> origins = origins();
        Map<UUID, Row> rows = new HashMap<>();
        for (Block block : ground.blocks()) {
            ground.rows(block.id()).forEach(row -> rows.put(row.id(), row));
        }
        try (Stream<String> features = jdbc.queryForStream(
                VINES + " where v.ended_on is null order by b.code, r.number, v.place",
                (row, n) -> feature(row, rows, origins))) {
            Writer writer = new BufferedWriter(new OutputStreamWriter(out, StandardCharsets.UTF_8));
            writer.write("{\"type\":\"FeatureCollection\",\"features\":[");
            String between = "\n";
            for (Iterator<String> all = features.iterator(); all.hasNext(); between = ",\n") {
                writer.write(between);
                writer.write(all.next());
            }
            writer.write("\n]}\n");
            writer.flush();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    private Map<UUID, Origin> origins() {
        Map<UUID, Origin> origins = new HashMap<>();
        jdbc.query("select id, origin_latitude, origin_longitude from block where origin_latitude is not null", row -> {
            origins.put(
                    row.getObject("id", UUID.class),
                    new Origin(row.getDouble("origin_latitude"), row.getDouble("origin_longitude")));
        });
        return origins;
    }

    private static String feature(ResultSet vine, Map<UUID, Row> rows, Map<UUID, Origin> origins) throws SQLException {
        Map<String, @Nullable Object> properties = new LinkedHashMap<>();
        properties.put("block", vine.getString("block"));
        properties.put("row", vine.getInt("row_number"));
        properties.put("place", vine.getInt("place"));
        properties.put("lot", vine.getString("lot"));
        properties.put("variety", vine.getString("variety"));
        properties.put("rootstock", vine.getString("rootstock"));
        properties.put("planted_on", vine.getString("planted_on"));
        properties.put("state", vine.getString("state"));
        properties.put("seen_on", vine.getString("state_on"));
        Map<String, @Nullable Object> geometry = null;
        Row row = rows.get(vine.getObject("row_id", UUID.class));
        int place = vine.getInt("place");
        if (row != null && place <= row.places()) {
            Point at = row.position(place);
            properties.put("east_m", round(at.x(), 100));
            properties.put("north_m", round(at.y(), 100));
            Origin origin = origins.get(row.blockId());
            if (origin != null) {
                geometry = new LinkedHashMap<>();
                geometry.put("type", "Point");
                geometry.put("coordinates", onEarth(origin, at));
            }
        }
        Map<String, @Nullable Object> feature = new LinkedHashMap<>();
        feature.put("type", "Feature");
        feature.put("id", vine.getString("id"));
        feature.put("geometry", geometry);
        feature.put("properties", properties);
        return JSON.writeValueAsString(feature);
    }

    /** Longitude and latitude to about a centimetre, by the azimuthal equidistant plane that blocks are kept in. */
    private static List<Double> onEarth(Origin origin, Point at) {
        GeodesicData there = Geodesic.WGS84.Direct(
                origin.latitude(),
                origin.longitude(),
                Math.toDegrees(Math.atan2(at.x(), at.y())),
                Math.hypot(at.x(), at.y()));
        return List.of(round(there.lon2, 1e7), round(there.lat2, 1e7));
    }

    private static double round(double value, double scale) {
        return Math.round(value * scale) / scale;
    }
}
