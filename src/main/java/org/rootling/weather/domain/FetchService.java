package org.rootling.weather.domain;

import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyard;
import org.rootling.people.Vineyards;
import org.rootling.platform.Wordless;
import org.rootling.weather.domain.Fetcher.Failed;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.scheduling.annotation.Scheduled;
import org.springframework.stereotype.Service;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Fetches days once a day where the owner has switched it on. A fetch is claimed in the database first, so that of
 * several nodes one does it; after a failure the next try waits a quarter of an hour, then twice as long each time, up
 * to a day. Only the coordinates are sent.
 */
@Service
public class FetchService {
    private static final Logger LOG = LoggerFactory.getLogger(FetchService.class);
    private static final Duration DAILY = Duration.ofHours(24);
    private static final Duration FIRST_WAIT = Duration.ofMinutes(15);

    /**
     * How fetching stands.
     *
     * @param outcome message key of the last outcome
     */
    public record FetchState(
            @Nullable Instant nextAt,
            @Nullable Instant lastAt,
            @Nullable Instant lastGoodAt,
            int failures,
            @Nullable String outcome) {}

    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final WeatherService weather;
    private final Vineyards vineyards;
    private final Fetcher fetcher;
    private final Clock clock;

    FetchService(
            JdbcClient jdbc,
            TransactionTemplate transaction,
            WeatherService weather,
            Vineyards vineyards,
            Fetcher fetcher,
            Clock realClock) {
        this.jdbc = jdbc;
        this.transaction = transaction;
        this.weather = weather;
        this.vineyards = vineyards;
        this.fetcher = fetcher;
        this.clock = realClock;
    }

    @Scheduled(initialDelayString = "PT2M", fixedDelayString = "PT10M")
    void fetchWhereDue() {
        vineyards.forEach(vineyard -> fetchIfDue());
    }

    /** Fetches for the current vineyard if it is switched on and due; answers whether it tried. */
    boolean fetchIfDue() {
        WeatherSettings settings = weather.settings();
        if (!settings.fetchOn() || vineyards.current().latitude() == null) {
            return false;
        }
        return claim() && fetch(settings);
    }

    /** Fetches now, whether due or not; answers whether days came. */
    public boolean fetchNow() {
        WeatherSettings settings = weather.settings();
        if (settings.fetchUrl() == null) {
            return false;
        }
        claimNow();
        fetch(settings);
        return state().failures() == 0;
    }

    private boolean claim() {
        Boolean mine = transaction.execute(status -> {
            jdbc.sql("insert into weather_fetch (next_at) values (:now) on conflict do nothing")
                    .param("now", time(clock.instant()))
                    .update();
            return jdbc.sql("update weather_fetch set next_at = :next, last_at = :now where next_at <= :now")
                            .param("now", time(clock.instant()))
                            .param("next", time(clock.instant().plus(FIRST_WAIT)))
                            .update()
                    == 1;
        });
        return Boolean.TRUE.equals(mine);
    }

    private void claimNow() {
        transaction.executeWithoutResult(
                status -> jdbc.sql("insert into weather_fetch as f (next_at, last_at) values (:next, :now)"
                                + " on conflict (vineyard_id) do update set next_at = :next, last_at = :now")
                        .param("now", time(clock.instant()))
                        .param("next", time(clock.instant().plus(FIRST_WAIT)))
                        .update());
    }

    private boolean fetch(WeatherSettings settings) {
        try {
            List<DayValues> days =
                    ForecastReader.read(fetcher.get(address(settings)), settings.fetchPaths(), settings.fetchUnits());
            transaction.executeWithoutResult(status -> {
                LocalDate today = vineyards.today();
                LocalDate latest = weather.latest();
                List<DayValues> taken =
                        days.stream().filter(d -> !d.date().isAfter(latest)).toList();
                weather.put(taken, today, "fetched");
                done(0, DAILY, "weather.fetch.good", clock.instant());
            });
        } catch (Failed failed) {
            note(failed.key());
        } catch (InterruptedException stopped) {
            Thread.currentThread().interrupt();
            note("weather.fetch.unreachable");
        } catch (RuntimeException unexpected) {
            LOG.warn("fetched days could not be stored", Wordless.of(unexpected));
            note("weather.fetch.not-stored");
        }
        return true;
    }

    private void note(String key) {
        transaction.executeWithoutResult(status -> {
            int failures = state().failures() + 1;
            Duration wait = FIRST_WAIT.multipliedBy(1L << Math.min(failures - 1, 7));
            done(failures, wait.compareTo(DAILY) > 0 ? DAILY : wait, key, null);
        });
    }

    private void done(int failures, Duration wait, String key, @Nullable Instant good) {
        jdbc.sql("update weather_fetch set failures = :failures, next_at = :next, outcome = :key,"
                        + " last_good_at = coalesce(:good, last_good_at)")
                .param("failures", failures)
                .param("next", time(clock.instant().plus(wait)))
                .param("key", key)
                .param("good", good == null ? null : time(good), java.sql.Types.TIMESTAMP_WITH_TIMEZONE)
                .update();
    }

    private static java.time.OffsetDateTime time(Instant instant) {
        return instant.atOffset(java.time.ZoneOffset.UTC);
    }

    private String address(WeatherSettings settings) throws Failed {
        Vineyard vineyard = vineyards.current();
        String url = settings.fetchUrl();
        Double latitude = vineyard.latitude();
        Double longitude = vineyard.longitude();
        if (url == null || latitude == null || longitude == null) {
            throw new Failed("weather.fetch.no-place");
        }
        return url.replace("{latitude}", String.format(Locale.ROOT, "%.4f", latitude))
                .replace("{longitude}", String.format(Locale.ROOT, "%.4f", longitude));
    }

    /** How fetching stands in the current vineyard. */
    public FetchState state() {
        Optional<FetchState> state = jdbc.sql("select * from weather_fetch")
                .query((row, n) -> new FetchState(
                        instant(row.getTimestamp("next_at")),
                        instant(row.getTimestamp("last_at")),
                        instant(row.getTimestamp("last_good_at")),
                        row.getInt("failures"),
                        row.getString("outcome")))
                .optional();
        return state.orElse(new FetchState(null, null, null, 0, null));
    }

    private static @Nullable Instant instant(java.sql.@Nullable Timestamp time) {
        return time == null ? null : time.toInstant();
    }
}
