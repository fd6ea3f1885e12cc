package org.rootling.work.domain;

import jakarta.annotation.PreDestroy;
import java.sql.Timestamp;
import java.time.Duration;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.Refused;
import org.rootling.platform.Tenancy;
import org.rootling.work.calc.SeasonSimulation;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import tools.jackson.databind.json.JsonMapper;

/**
 * Plays seasons in the background of one node; progress, the wish to stop and the answer stand in the database, where any
 * node finds them.
 */
@Service
public class OutlookService {
    private static final org.slf4j.Logger LOG = org.slf4j.LoggerFactory.getLogger(OutlookService.class);
    private static final JsonMapper JSON = JsonMapper.builder().build();
    private static final Duration SILENCE = Duration.ofSeconds(30);

    private final OutlookBuilder builder;
    private final Vineyards vineyards;
    private final JdbcClient jdbc;
    private final ExecutorService players = Executors.newFixedThreadPool(2, work -> {
        Thread t = new Thread(work, "outlook");
        t.setDaemon(true);
        return t;
    });

    OutlookService(OutlookBuilder builder, Vineyards vineyards, JdbcClient jdbc) {
        this.builder = builder;
        this.vineyards = vineyards;
        this.jdbc = jdbc;
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
        UUID vineyard = Tenancy.require();
        UUID account = Tenancy.accountOrNull();
        AfterCommit.run(() ->
                players.execute(() -> Tenancy.run(vineyard, account, () -> play(id, built, seasons, seed))));
        return id;
    }

    private void play(UUID id, OutlookBuilder.Built built, int seasons, long seed) {
        try {
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
        } catch (RuntimeException failure) {
            LOG.error("playing seasons failed", failure);
            jdbc.sql("update work_outlook set state = 'FAILED' where id = :id")
                    .param("id", id)
                    .update();
            throw failure;
        }
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
        jdbc.sql("update work_outlook set cancel_asked = true where id = :id and state = 'RUNNING'")
                .param("id", id)
                .update();
    }

    /** The newest run. One whose node died counts as failed. */
    public Optional<Run> latest() {
        return jdbc.sql("select *, state = 'RUNNING' and heard_at < now() - make_interval(secs => :silence) as dead"
                        + " from work_outlook order by started_at desc, id desc limit 1")
                .param("silence", SILENCE.toSeconds())
                .query((r, n) -> new Run(
                        r.getObject("id", UUID.class),
                        r.getBoolean("dead") ? "FAILED" : r.getString("state"),
                        r.getObject("starts_on", LocalDate.class),
                        r.getInt("seasons"),
                        r.getLong("seed"),
                        r.getInt("played"),
                        r.getInt("total"),
                        r.getString("answer") == null ? null : JSON.readValue(r.getString("answer"), Outlook.class)))
                .optional();
    }

    @PreDestroy
    void stop() {
        players.shutdownNow();
    }
}
