package org.rootling.weather.domain;

import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.weather.domain.DayReader.Mapping;
import org.rootling.weather.domain.DayReader.Outcome;
import org.rootling.weather.domain.DayReader.RefusedLine;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;
import tools.jackson.core.type.TypeReference;
import tools.jackson.databind.json.JsonMapper;

/** Takes files of days: kept first, looked at with a mapping, then taken once. */
@Service
public class ImportService {
    private static final int LINES_KEPT = 200;

    /** A file as listed. */
    public record FileRow(
            UUID id,
            String name,
            Instant at,
            @Nullable Instant takenAt,
            int added,
            int corrected,
            int unchanged,
            int refused,
            List<RefusedLine> refusedLines) {
        public FileRow {
            refusedLines = List.copyOf(refusedLines);
        }
    }

    private final JdbcClient jdbc;
    private final WeatherService weather;
    private final Vineyards vineyards;
    private final JsonMapper json = JsonMapper.builder().build();

    ImportService(JdbcClient jdbc, WeatherService weather, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.weather = weather;
        this.vineyards = vineyards;
    }

    /** Keeps a file that can be read as a table; returns its number. */
    @Transactional
    public UUID keep(String name, byte[] content) {
        CsvTable.read(content);
        UUID id = Ids.next();
        String plain = name.replaceAll("[\\p{Cntrl}]", "").replaceAll("^.*[/\\\\]", "");
        jdbc.sql("insert into weather_import (id, file_name, content) values (:id, :name, :content)")
                .param("id", id)
                .param("name", plain.length() > 120 ? plain.substring(0, 120) : plain)
                .param("content", content)
                .update();
        return id;
    }

    /** The table of a kept file; refused once it has been taken. */
    @Transactional(readOnly = true)
    public CsvTable table(UUID id) {
        file(id);
        byte[] content = jdbc.sql("select content from weather_import where id = :id")
                .param("id", id)
                .query(byte[].class)
                .optional()
                .orElse(null);
        if (content == null) {
            throw new Refused("weather.import.already-taken");
        }
        return CsvTable.read(content);
    }

    /** What a mapping would take, without storing anything. */
    @Transactional(readOnly = true)
    public Outcome preview(CsvTable table, Mapping mapping) {
        return DayReader.read(table, mapping, weather.latest());
    }

    /** Takes the days of a kept file. */
    @Transactional
    public void take(UUID id, Mapping mapping) {
        int mine = jdbc.sql("update weather_import set taken_at = now(), added = 0 where id = :id and taken_at is null")
                .param("id", id)
                .update();
        if (mine == 0) {
            throw new Refused("weather.import.already-taken");
        }
        FileRow file = file(id);
        Outcome outcome = preview(table(id), mapping);
        if (outcome.days().isEmpty()) {
            throw new Refused("weather.import.no-days", outcome.refused().size());
        }
        DayStore.Counts counts = weather.put(outcome.days(), vineyards.today().plusDays(1), "file " + file.name());
        List<RefusedLine> shown = outcome.refused().stream().limit(LINES_KEPT).toList();
        jdbc.sql("""
                update weather_import set content = null, added = :added, corrected = :corrected,
                  unchanged = :unchanged, refused = :refused, refused_lines = :lines::jsonb
                where id = :id
                """)
                .param("added", counts.added())
                .param("corrected", counts.corrected())
                .param("unchanged", counts.unchanged() + outcome.repeated())
                .param("refused", outcome.refused().size())
                .param("lines", json.writeValueAsString(shown))
                .param("id", id)
                .update();
    }

    /** All files, the latest first. */
    @Transactional(readOnly = true)
    public List<FileRow> all() {
        return jdbc.sql("select * from weather_import order by at desc")
                .query((row, n) -> fileRow(row))
                .list();
    }

    /** One file. */
    @Transactional(readOnly = true)
    public FileRow file(UUID id) {
        Optional<FileRow> file = jdbc.sql("select * from weather_import where id = :id")
                .param("id", id)
                .query((row, n) -> fileRow(row))
                .optional();
        return file.orElseThrow(() -> new NotFound("weather file " + id));
    }

    private FileRow fileRow(java.sql.ResultSet row) throws java.sql.SQLException {
        java.sql.Timestamp taken = row.getTimestamp("taken_at");
        String lines = row.getString("refused_lines");
        return new FileRow(
                row.getObject("id", UUID.class),
                row.getString("file_name"),
                row.getTimestamp("at").toInstant(),
                taken == null ? null : taken.toInstant(),
                row.getInt("added"),
                row.getInt("corrected"),
                row.getInt("unchanged"),
                row.getInt("refused"),
                lines == null ? List.of() : json.readValue(lines, new TypeReference<List<RefusedLine>>() {}));
    }
}
