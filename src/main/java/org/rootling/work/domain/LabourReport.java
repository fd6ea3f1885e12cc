package org.rootling.work.domain;

import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Hours and what they cost, from the logs that stand. */
@Service
@Transactional(readOnly = true)
public class LabourReport {
    private final JdbcClient jdbc;

    LabourReport(JdbcClient jdbc) {
        this.jdbc = jdbc;
    }

    /** By what the hours are summed. */
    public enum By {
        STEP("t.step"),
        BLOCK("b.code"),
        PERSON("coalesce(p.name, a.name)"),
        WEEK("to_char(l.on_day, 'IYYY-\"W\"IW')");

        private final String sql;

        By(String sql) {
            this.sql = sql;
        }
    }

    /**
     * One sum.
     *
     * @param cost null where all of it was unpaid
     */
    public record Line(
            String key,
            int places,
            BigDecimal hours,
            BigDecimal paidHours,
            BigDecimal unpaidHours,
            @Nullable BigDecimal cost,
            @Nullable String currency) {}

    /** Sums of a span of days, both included. The wage is the one that the person has now. */
    public List<Line> lines(By by, LocalDate from, LocalDate to) {
        return jdbc.sql("select " + by.sql + " as key, " + """
                          sum(l.place_count) as places, sum(coalesce(l.minutes, 0)) as minutes,
                          sum(case when p.wage > 0 then coalesce(l.minutes, 0) else 0 end) as paid,
                          sum(case when p.wage > 0 then coalesce(l.minutes, 0) * p.wage / 60 end) as cost,
                          case when p.wage > 0 then p.currency end as currency
                          from task_log l
                          join task t on t.vineyard_id = l.vineyard_id and t.id = l.task_id
                          join vine_row r on r.vineyard_id = t.vineyard_id and r.id = t.row_id
                          join block b on b.vineyard_id = r.vineyard_id and b.id = r.block_id
                          left join account a on a.id = l.by_account
                          left join work_person p on p.vineyard_id = l.vineyard_id
                            and (p.id = l.person_id or (l.person_id is null and p.account_id = l.by_account))
                         where l.on_day between :from and :to
                           and not exists (select 1 from task_log_undo u
                                            where u.vineyard_id = l.vineyard_id and u.log_id = l.id)
                         group by 1, 6 order by 1, 6""")
                .params(Map.of("from", from, "to", to))
                .query((r, n) -> new Line(
                        r.getString("key") == null ? "?" : r.getString("key"),
                        r.getInt("places"),
                        hours(r.getInt("minutes")),
                        hours(r.getInt("paid")),
                        hours(r.getInt("minutes") - r.getInt("paid")),
                        r.getBigDecimal("cost") == null
                                ? null
                                : r.getBigDecimal("cost").setScale(2, RoundingMode.HALF_UP),
                        r.getString("currency")))
                .list();
    }

    private static BigDecimal hours(int minutes) {
        return BigDecimal.valueOf(minutes).divide(BigDecimal.valueOf(60), 2, RoundingMode.HALF_UP);
    }
}
