package org.rootling.work.domain;

import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.rootling.work.Step;
import org.rootling.work.Steps;
import org.rootling.work.calc.Rate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** How long each step takes here: the grower's guess, corrected by the logs. */
@Service
@Transactional(readOnly = true)
public class RateBook {
    private static final int NEWEST_LOGS = 400;

    private final JdbcClient jdbc;
    private final Steps steps;

    RateBook(JdbcClient jdbc, Steps steps) {
        this.jdbc = jdbc;
        this.steps = steps;
    }

    /** Minutes of one person for one place, by step; steps with neither guess nor logs are missing. */
    public Map<String, Rate> rates() {
        Map<String, List<Rate.Sample>> samples = new HashMap<>();
        jdbc.sql("""
                        select step, place_count, minutes from (
                          select t.step, l.place_count, l.minutes,
                            row_number() over (partition by t.step order by l.at desc) as age
                            from task_log l join task t on t.vineyard_id = l.vineyard_id and t.id = l.task_id
                           where l.minutes > 0 and l.place_count > 0
                             and not exists (select 1 from task_log_undo u
                                              where u.vineyard_id = l.vineyard_id and u.log_id = l.id)) newest
                         where age <= :most""")
                .param("most", NEWEST_LOGS)
                .query((r, n) -> samples.computeIfAbsent(r.getString("step"), k -> new ArrayList<>())
                        .add(new Rate.Sample(r.getInt("place_count"), r.getInt("minutes"))))
                .list();
        Map<String, Rate> rates = new HashMap<>();
        for (Step step : steps.all()) {
            List<Rate.Sample> own = samples.getOrDefault(step.code(), List.of());
            if (step.guessMinutes() != null) {
                rates.put(step.code(), Rate.learn(step.guessMinutes().doubleValue(), own));
            } else if (!own.isEmpty()) {
                // Nobody guessed: the middle of the logs stands in for a guess.
                List<Double> each =
                        own.stream().map(s -> s.minutes() / s.units()).sorted().toList();
                rates.put(step.code(), Rate.learn(each.get(each.size() / 2), own));
            }
        }
        return rates;
    }
}
