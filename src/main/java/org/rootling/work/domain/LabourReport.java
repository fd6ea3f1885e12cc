package org.rootling.work.domain;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.sql.ResultSet;
import java.sql.SQLException;
import java.time.LocalDate;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Members;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Hours and what they cost, from the logs that stand. */
@Service
@Transactional(readOnly = true)
public class LabourReport {
    private final JdbcClient jdbc;
    private final Steps steps;
    private final CrewService crew;
    private final Members members;

    LabourReport(JdbcClient jdbc, Steps steps, CrewService crew, Members members) {
        this.jdbc = jdbc;
        this.steps = steps;
        this.crew = crew;
        this.members = members;
    }

    /** By what the hours are summed. */
    public enum By {
        STEP("t.step"),
        BLOCK("b.code"),
        /** By who they are, not what they are called. */
        PERSON("coalesce(p.id, l.by_account)::text"),
        WEEK("to_char(l.on_day, 'IYYY-\"W\"IW')");

        private final String sql;

        By(String sql) {
            this.sql = sql;
        }
    }

    /**
     * One sum.
     *
     * @param key code or id of what is summed
     * @param label the same in words
     * @param logs of how many logs it is the sum
     * @param costs by currency; none where all of it was unpaid
     */
    public record Line(
            String key,
            String label,
            int logs,
            int places,
            BigDecimal hours,
            BigDecimal paidHours,
            BigDecimal unpaidHours,
            SortedMap<String, BigDecimal> costs) {

        private Line plus(Line other) {
            SortedMap<String, BigDecimal> both = new TreeMap<>(costs);
            other.costs.forEach((currency, cost) -> both.merge(currency, cost, BigDecimal::add));
            return new Line(
                    key,
                    label,
                    logs + other.logs,
                    places + other.places,
                    hours.add(other.hours),
                    paidHours.add(other.paidHours),
                    unpaidHours.add(other.unpaidHours),
                    both);
        }
    }

    /**
     * A log that sums are made of.
     *
     * @param personId of whoever did it: on the list of who works when, or else their account
     * @param minutes null where nobody took the time
     * @param wage for an hour; null for unpaid work
     * @param cost null for unpaid work
     */
    public record Entry(
            UUID id,
            UUID task,
            LocalDate on,
            String step,
            String row,
            UUID personId,
            String person,
            int places,
            @Nullable Integer minutes,
            @Nullable BigDecimal wage,
            @Nullable BigDecimal cost,
            @Nullable String currency) {}

    /** The logs that stand, who did them, and under which wage: the one that the person has now, or had last. */
    private static final String LOGS = """
             from task_log l
             join task t on t.vineyard_id = l.vineyard_id and t.id = l.task_id
             join vine_row r on r.vineyard_id = t.vineyard_id and r.id = t.row_id
             join block b on b.vineyard_id = r.vineyard_id and b.id = r.block_id
             left join work_person p
               on p.vineyard_id = l.vineyard_id and p.id = rootling_worker(l.person_id, l.by_account)
            where l.on_day between :from and :to
              and not exists (select 1 from task_log_undo u where u.vineyard_id = l.vineyard_id and u.log_id = l.id)
            """;

    /** Sums of a span of days, both included. */
    public List<Line> lines(By by, LocalDate from, LocalDate to) {
        Map<String, String> labels = labels(by);
        Map<String, Line> lines = new LinkedHashMap<>();
        jdbc.sql("select " + by.sql + " as key, " + """
                          count(*) as logs, sum(l.place_count) as places, sum(coalesce(l.minutes, 0)) as minutes,
                          sum(case when p.wage > 0 then coalesce(l.minutes, 0) else 0 end) as paid,
                          sum(case when p.wage > 0 then coalesce(l.minutes, 0) * p.wage / 60 end) as cost,
                          case when p.wage > 0 then p.currency end as currency
                        """ + LOGS + " group by 1, 7 order by 1, 7")
                .params(Map.of("from", from, "to", to))
                .query((ResultSet r) -> {
                    Line line = line(r, labels);
                    lines.merge(line.key(), line, Line::plus);
                });
        return by == By.PERSON
                ? lines.values().stream()
                        .sorted(Comparator.comparing(Line::label, String.CASE_INSENSITIVE_ORDER))
                        .toList()
                : List.copyOf(lines.values());
    }

    /** The paid or the unpaid part of a sum. */
    private static Line line(ResultSet r, Map<String, String> labels) throws SQLException {
        SortedMap<String, BigDecimal> costs = new TreeMap<>();
        BigDecimal cost = cents(r.getBigDecimal("cost"));
        if (cost != null) {
            costs.put(r.getString("currency"), cost);
        }
        return new Line(
                r.getString("key"),
                labels.getOrDefault(r.getString("key"), r.getString("key")),
                r.getInt("logs"),
                r.getInt("places"),
                hours(r.getInt("minutes")),
                hours(r.getInt("paid")),
                hours(r.getInt("minutes") - r.getInt("paid")),
                costs);
    }

    /**
     * The logs behind a sum, newest first.
     *
     * @param key of the line; null for all
     */
    public List<Entry> entries(By by, @Nullable String key, LocalDate from, LocalDate to) {
        Map<String, String> stepNames = labels(By.STEP);
        Map<String, String> people = labels(By.PERSON);
        Map<String, @Nullable Object> params = new HashMap<>();
        params.put("from", from);
        params.put("to", to);
        params.put("key", key);
        return jdbc.sql("""
                        select l.id, l.task_id, l.on_day, t.step, b.code, r.number, coalesce(p.id, l.by_account)::text as person,
                          l.place_count, l.minutes, case when p.wage > 0 then p.wage end as wage,
                          case when p.wage > 0 then coalesce(l.minutes, 0) * p.wage / 60 end as cost,
                          case when p.wage > 0 then p.currency end as currency
                        """ + LOGS + " and (cast(:key as text) is null or " + by.sql + " = :key)" + """
                         order by l.on_day desc, l.at desc, l.id
                        """)
                .params(params)
                .query((r, n) -> new Entry(
                        r.getObject("id", UUID.class),
                        r.getObject("task_id", UUID.class),
                        r.getObject("on_day", LocalDate.class),
                        stepNames.getOrDefault(r.getString("step"), r.getString("step")),
                        r.getString("code") + " r" + r.getInt("number"),
                        UUID.fromString(r.getString("person")),
                        people.getOrDefault(r.getString("person"), "?"),
                        r.getInt("place_count"),
                        r.getObject("minutes", Integer.class),
                        r.getBigDecimal("wage"),
                        cents(r.getBigDecimal("cost")),
                        r.getString("currency")))
                .list();
    }

    /** The word for a key. */
    public String label(By by, String key) {
        return Objects.requireNonNull(labels(by).getOrDefault(key, key));
    }

    private Map<String, String> labels(By by) {
        return switch (by) {
            case STEP -> steps.all().stream().collect(Collectors.toMap(Step::code, Step::name));
            case PERSON -> {
                Map<String, String> names = new HashMap<>();
                members.names().forEach((id, name) -> names.put(id.toString(), name));
                crew.names().forEach((id, name) -> names.put(id.toString(), name));
                yield names;
            }
            case BLOCK, WEEK -> Map.of();
        };
    }

    private static BigDecimal hours(int minutes) {
        return BigDecimal.valueOf(minutes).divide(BigDecimal.valueOf(60), 2, RoundingMode.HALF_UP);
    }

    private static @Nullable BigDecimal cents(@Nullable BigDecimal money) {
        return money == null ? null : money.setScale(2, RoundingMode.HALF_UP);
    }
}
