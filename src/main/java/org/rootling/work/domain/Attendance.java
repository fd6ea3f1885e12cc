package org.rootling.work.domain;

import java.time.LocalDate;
import java.util.Set;
import java.util.UUID;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.work.calc.NoShow;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Who was expected and did not come, and how often that is. */
@Service
@Transactional
public class Attendance {
    private static final int NEWEST_DAYS = 60;
    private static final int OLDEST = 400;

    private final JdbcClient jdbc;
    private final CrewService crew;
    private final Vineyards vineyards;

    Attendance(JdbcClient jdbc, CrewService crew, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.crew = crew;
        this.vineyards = vineyards;
    }

    /**
     * Notes that a person did not come on a day, so that planning again gives their work away; or takes that back.
     *
     * @throws Refused for a day that is still to come: that is a day off
     */
    public void mark(UUID person, LocalDate day, boolean absent) {
        if (crew.person(person).isEmpty()) {
            throw new NotFound("person");
        }
        LocalDate today = vineyards.today();
        if (day.isAfter(today) || day.isBefore(today.minusDays(OLDEST))) {
            throw new Refused("work.sheet.absent-day", OLDEST);
        }
        if (absent) {
            for (String table : new String[] {"work_absence", "work_day_off"}) {
                jdbc.sql("insert into " + table
                                + " (id, person_id, day) values (:id, :person, :day) on conflict do nothing")
                        .param("id", Ids.next())
                        .param("person", person)
                        .param("day", day)
                        .update();
            }
        } else {
            for (String table : new String[] {"work_absence", "work_day_off"}) {
                jdbc.sql("delete from " + table + " where person_id = :person and day = :day")
                        .param("person", person)
                        .param("day", day)
                        .update();
            }
        }
    }

    /** Those who did not come on a day. */
    @Transactional(readOnly = true)
    public Set<UUID> absent(LocalDate day) {
        return jdbc.sql("select person_id from work_absence where day = :day")
                .param("day", day)
                .query(UUID.class)
                .set();
    }

    /**
     * How often people do not come, from the newest days on which anybody logged work: whom the schedule of the evening
     * before had planned, and who neither logged that day nor had it off, or was marked as absent.
     *
     * @param typed the share that the grower typed
     */
    @Transactional(readOnly = true)
    NoShow noShow(double typed) {
        LocalDate today = vineyards.today();
        return jdbc.sql("""
                        with worked as (
                          select distinct l.on_day from task_log l
                           where l.on_day < :today and l.on_day >= :oldest
                             and not exists (select 1 from task_log_undo u where u.log_id = l.id)
                           order by l.on_day desc limit :newest),
                        eve as (
                          select w.on_day, s.stints from worked w cross join lateral (
                            select s.stints from work_schedule s
                             where s.state in ('DONE', 'CANCELLED') and s.answers > 0
                               and s.started_at < (cast(w.on_day as timestamp) at time zone :zone)
                             order by s.started_at desc, s.id desc limit 1) s),
                        planned as (
                          select distinct e.on_day, p.id, p.account_id
                            from eve e cross join lateral jsonb_to_recordset(e.stints) as x(p text, d date)
                            join work_person p on p.id = cast(x.p as uuid) and p.withdrawn_at is null
                           where x.d = e.on_day),
                        judged as (
                          select exists (select 1 from work_absence a where a.person_id = n.id and a.day = n.on_day) as absent,
                                 exists (select 1 from work_day_off o where o.person_id = n.id and o.day = n.on_day) as off,
                                 exists (select 1 from task_log l where l.on_day = n.on_day
                                            and (l.person_id = n.id or (l.person_id is null and l.by_account = n.account_id))
                                            and not exists (select 1 from task_log_undo u where u.log_id = l.id)) as came
                            from planned n)
                        select count(*) filter (where came or absent or not off) as planned,
                               count(*) filter (where not came and (absent or not off)) as missed
                          from judged""")
                .param("today", today)
                .param("oldest", today.minusDays(OLDEST))
                .param("newest", NEWEST_DAYS)
                .param("zone", vineyards.current().zone().getId())
                .query((r, n) -> new NoShow(typed, r.getInt("planned"), r.getInt("missed")))
                .single();
    }
}
