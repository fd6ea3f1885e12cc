package org.rootling.work.domain;

import jakarta.annotation.PreDestroy;
import java.sql.Timestamp;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.Refused;
import org.rootling.work.calc.SeasonSimulation;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import tools.jackson.databind.json.JsonMapper;

/** Plays seasons in the background. */
@Service
public class OutlookService {
    private static final JsonMapper JSON = JsonMapper.builder().build();

    private final OutlookBuilder builder;
    private final Vineyards vineyards;
    private final JdbcClient jdbc;
    private final BackgroundRuns runs;

    OutlookService(OutlookBuilder builder, Vineyards vineyards, JdbcClient jdbc) {
        this.builder = builder;
        this.vineyards = vineyards;
        this.jdbc = jdbc;
        runs = new BackgroundRuns("work_outlook", 2, jdbc);
    }

    /** How a run stands, or ended. */
    public record Run(
            UUID id,
            String state,
            LocalDate starts,
            int seasons,
            long seed,
            int played,
            int total,
            @Nullable Outlook answer) {
        public boolean running() {
            return state.equals("RUNNING");
        }

        public int percent() {
            return total == 0 ? 0 : (int) (100L * played / total);
        }
    }

    /** Starts playing seasons that begin on a day. */
    public UUID start(LocalDate from, int seasons, long seed) {
        OutlookBuilder.Built built = builder.build(from);
        if (built.base().workers().isEmpty()) {
            throw new Refused("work.schedule.no-people");
        }
        if (built.base().jobs().isEmpty()) {
            throw new Refused("work.schedule.nothing");
        }
        if (latest().filter(Run::running).isPresent()) {
            throw new Refused("work.outlook.running");
        }
        UUID id = Ids.next();
        jdbc.sql("insert into work_outlook (id, state, starts_on, started_at, heard_at, seasons, seed, total)"
                        + " values (:id, 'RUNNING', :from, :now, now(), :seasons, :seed, :total)")
                .param("id", id)
                .param("from", from)
                .param("now", Timestamp.from(vineyards.now()))
                .param("seasons", seasons)
                .param("seed", seed)
                .param("total", seasons * (1 + built.variants().size()))
                .update();
        runs.start(id, () -> play(id, built, seasons, seed));
        return id;
    }

    private void play(UUID id, OutlookBuilder.Built built, int seasons, long seed) {
        int[] before = {0};
        boolean[] stopped = {false};
        SeasonSimulation.Result base =
                SeasonSimulation.run(built.base(), seasons, seed, played -> goOn(id, before[0] + played, stopped));
        List<Outlook.Help> helps = new ArrayList<>();
        for (OutlookBuilder.Variant v : built.variants()) {
            before[0] += seasons;
            if (stopped[0]) {
                break;
            }
            SeasonSimulation.Result then = SeasonSimulation.run(
                    v.input(), base.seasons(), seed, played -> goOn(id, before[0] + played, stopped));
            if (!stopped[0]) {
                helps.add(help(v, built, base, then));
            }
        }
        helps.sort(Comparator.comparingLong((Outlook.Help h) -> -Math.round(h.vinesMore() * 10))
                .thenComparingInt(h -> h.daysSooner() == null ? 0 : -h.daysSooner()));
        Outlook answer = answer(built, base, helps);
        jdbc.sql("update work_outlook set state = :state, answer = cast(:answer as jsonb), played = :played,"
                        + " heard_at = now() where id = :id")
                .param("state", stopped[0] ? "CANCELLED" : "DONE")
                .param("answer", JSON.writeValueAsString(answer))
                .param("played", base.seasons() * (1 + helps.size()))
                .param("id", id)
                .update();
    }

    private boolean goOn(UUID id, int played, boolean[] stopped) {
        if (played % 250 == 0) {
            stopped[0] |= jdbc.sql("update work_outlook set heard_at = now(), played = :played where id = :id"
                            + " returning cancel_asked")
                    .param("played", played)
                    .param("id", id)
                    .query(Boolean.class)
                    .optional()
                    .orElse(true);
        }
        return !stopped[0];
    }

    private static Outlook answer(OutlookBuilder.Built built, SeasonSimulation.Result base, List<Outlook.Help> helps) {
        List<Outlook.LotChance> lots = new ArrayList<>();
        built.lots()
                .forEach((code, lot) -> lots.add(new Outlook.LotChance(
                        code,
                        lot.vines(),
                        lot.runsOut(),
                        lot.runsOut() == null ? null : base.lots().getOrDefault(code, 0.0),
                        base.reached(code, 0.5),
                        base.reached(code, 0.8),
                        base.reached(code, 0.95))));
        lots.sort(Comparator.comparingDouble(l -> l.chance() == null ? 2 : l.chance()));
        return new Outlook(
                lots,
                base.reached(0.5),
                base.reached(0.8),
                base.reached(0.95),
                curve(base),
                helps,
                built.weatherDays(),
                built.noShow(),
                built.unrated(),
                built.unplanned());
    }

    /** Up to the day by which 99.5 % were done, at most half a year. */
    private static List<Double> curve(SeasonSimulation.Result base) {
        List<Double> curve = new ArrayList<>();
        int n = base.finish().size();
        int done = 0;
        for (int day = 0; day < 183 && done < 0.995 * n; day++) {
            while (done < n && base.finish().get(done) <= day) {
                done++;
            }
            curve.add((double) done / n);
        }
        return curve;
    }

    private static Outlook.Help help(
            OutlookBuilder.Variant v,
            OutlookBuilder.Built built,
            SeasonSimulation.Result base,
            SeasonSimulation.Result then) {
        double more = 0;
        for (Map.Entry<String, OutlookBuilder.LotToPlant> e : built.lots().entrySet()) {
            if (e.getValue().runsOut() != null) {
                more += e.getValue().vines()
                        * (then.lots().getOrDefault(e.getKey(), 0.0)
                                - base.lots().getOrDefault(e.getKey(), 0.0));
            }
        }
        LocalDate most = base.reached(0.8);
        LocalDate mostThen = then.reached(0.8);
        Integer sooner = most == null || mostThen == null ? null : (int) (most.toEpochDay() - mostThen.toEpochDay());
        return new Outlook.Help(v.what(), v.about(), v.where(), more, sooner, mostThen);
    }

    public void cancel(UUID id) {
        runs.cancel(id);
    }

    /** The newest run. */
    public Optional<Run> latest() {
        return runs.latest((r, n) -> new Run(
                r.getObject("id", UUID.class),
                BackgroundRuns.state(r),
                r.getObject("starts_on", LocalDate.class),
                r.getInt("seasons"),
                r.getLong("seed"),
                r.getInt("played"),
                r.getInt("total"),
                r.getString("answer") == null ? null : JSON.readValue(r.getString("answer"), Outlook.class)));
    }

    @PreDestroy
    void stop() {
        runs.stop();
    }
}
