package org.rootling.weather.domain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatCode;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.io.OutputStream;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.nio.charset.StandardCharsets;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.concurrent.CopyOnWriteArrayList;
import java.util.concurrent.Executors;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Vineyards;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.weather.domain.Fetcher.Failed;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;

/** The daily fetch against a service on this machine that answers as it is told. */
@AppTest
class FetchTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    Vineyards current;

    @Autowired
    WeatherService weather;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    TransactionTemplate transaction;

    private HttpServer stub;
    private volatile int status = 200;
    private volatile String body = "";
    private volatile Duration delay = Duration.ZERO;
    private final List<String> asked = new CopyOnWriteArrayList<>();
    private final SettableClock clock = new SettableClock();

    static final class SettableClock extends Clock {
        volatile Instant now = Instant.parse("2027-04-02T05:00:00Z");

        @Override
        public ZoneId getZone() {
            return ZoneOffset.UTC;
        }

        @Override
        public Clock withZone(ZoneId zone) {
            return this;
        }

        @Override
        public Instant instant() {
            return now;
        }
    }

    @BeforeEach
    void startStub() throws IOException {
        stub = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        stub.setExecutor(Executors.newCachedThreadPool());
        stub.createContext("/", exchange -> {
            asked.add(exchange.getRequestURI().toString());
            try {
                Thread.sleep(delay.toMillis());
            } catch (InterruptedException stopped) {
                Thread.currentThread().interrupt();
            }
            byte[] bytes = body.getBytes(StandardCharsets.UTF_8);
            exchange.getResponseHeaders().add("Location", "http://127.0.0.1:1/elsewhere");
            exchange.sendResponseHeaders(status, bytes.length == 0 ? -1 : bytes.length);
            try (OutputStream out = exchange.getResponseBody()) {
                out.write(bytes);
            }
        });
        stub.start();
    }

    @AfterEach
    void stopStub() {
        stub.stop(0);
    }

    private String base() {
        return "http://127.0.0.1:" + stub.getAddress().getPort();
    }

    private FetchService fetch() {
        return new FetchService(
                jdbc, transaction, weather, current, new Fetcher(true, List.of(), Duration.ofMillis(700)), clock);
    }

    private void switchOn() {
        WeatherSettings s = weather.settings();
        weather.change(new WeatherSettings(
                s.baseC(),
                s.cutC(),
                s.cut(),
                s.frostC(),
                s.marginK(),
                s.stage(),
                s.coastal(),
                true,
                base() + "/days?at={latitude},{longitude}",
                Map.of(Column.DATE, "day", Column.LOW, "low", Column.HIGH, "high", Column.RAIN, "rain"),
                s.fetchUnits(),
                s.version()));
    }

    private void answerAround(LocalDate today) {
        body = "{\"day\":[\"%s\",\"%s\",\"%s\"],\"low\":[1,2,3],\"high\":[9,10,11],\"rain\":[0,1,2]}"
                .formatted(today.minusDays(1), today, today.plusDays(1));
    }

    @Test
    void isOffUntilSwitchedOn() {
        vineyards.fresh().run(() -> assertThat(fetch().fetchIfDue()).isFalse());
        assertThat(asked).isEmpty();
    }

    @Test
    void onceADayOnlyTheCoordinatesAreSentAndDaysComeBack() {
        vineyards.fresh().run(() -> {
            switchOn();
            LocalDate today = current.today();
            answerAround(today);
            assertThat(fetch().fetchIfDue()).isTrue();
            assertThat(fetch().fetchIfDue()).as("second node").isFalse();
            assertThat(asked).containsExactly("/days?at=50.8000,0.1000");
            assertThat(weather.record(today.minusDays(1)).orElseThrow().forecast())
                    .isFalse();
            assertThat(weather.record(today).orElseThrow().forecast()).isTrue();
            assertThat(weather.forecastUntil()).hasValue(today.plusDays(1));
            clock.now = clock.now.plus(Duration.ofHours(24));
            assertThat(fetch().fetchIfDue()).isTrue();
            assertThat(asked).hasSize(2);
            assertThat(fetch().state().outcome()).isEqualTo("weather.fetch.good");
        });
    }

    @Test
    void afterAFailureTheNextTryWaitsLongerEachTime() {
        vineyards.fresh().run(() -> {
            switchOn();
            status = 503;
            FetchService fetch = fetch();
            long[] minutes = {15, 30, 60, 120};
            for (long wait : minutes) {
                assertThat(fetch.fetchIfDue()).isTrue();
                assertThat(fetch.state().outcome()).isEqualTo("weather.fetch.status");
                clock.now = clock.now.plus(Duration.ofMinutes(wait - 1));
                assertThat(fetch.fetchIfDue()).isFalse();
                clock.now = clock.now.plus(Duration.ofMinutes(1));
            }
            assertThat(fetch.state().failures()).isEqualTo(4);
            status = 200;
            answerAround(current.today());
            assertThat(fetch.fetchIfDue()).isTrue();
            assertThat(fetch.state().failures()).isZero();
        });
    }

    @Test
    void aServiceThatHangsIsGivenUpAndAnAnswerOfNonsenseIsSaid() {
        vineyards.fresh().run(() -> {
            switchOn();
            delay = Duration.ofSeconds(3);
            assertThat(fetch().fetchNow()).isFalse();
            assertThat(fetch().state().outcome()).isEqualTo("weather.fetch.unreachable");
            delay = Duration.ZERO;
            body = "<p>sorry</p>";
            assertThat(fetch().fetchNow()).isFalse();
            assertThat(fetch().state().outcome()).isEqualTo("weather.fetch.not-json");
            body = "x".repeat(Fetcher.MOST_BYTES + 1);
            assertThat(fetch().fetchNow()).isFalse();
            assertThat(fetch().state().outcome()).isEqualTo("weather.fetch.too-large");
            status = 302;
            assertThat(fetch().fetchNow()).as("redirects are not followed").isFalse();
            assertThat(fetch().state().outcome()).isEqualTo("weather.fetch.status");
        });
    }

    @Test
    void addressesOfTheInnerNetworkAreNotAskedUnlessAllowed() {
        Fetcher fetcher = new Fetcher(false, List.of(), Duration.ofMillis(700));
        for (String url :
                List.of(base(), "http://localhost/", "http://10.0.0.1/", "http://169.254.169.254/", "http://[::1]/")) {
            assertThatThrownBy(() -> fetcher.get(url))
                    .as(url)
                    .isInstanceOf(Failed.class)
                    .hasMessage("weather.fetch.inner");
        }
        for (String url : List.of("file:///etc/passwd", "ftp://example.org/", "http://u:p@example.org/", "nonsense")) {
            assertThatThrownBy(() -> fetcher.get(url))
                    .as(url)
                    .isInstanceOf(Failed.class)
                    .hasMessage("weather.fetch.address");
        }
        assertThat(asked).isEmpty();
    }

    @Test
    void onlyListedHostsAreAskedWhenTheOperatorListsThem() {
        Fetcher fetcher = new Fetcher(true, List.of("weather.example", " LOCALHOST"), Duration.ofMillis(700));
        assertThatThrownBy(() -> fetcher.get(base())).hasMessage("weather.fetch.not-listed");
        answerAround(LocalDate.of(2026, 5, 1));
        assertThatCode(() -> fetcher.get(base().replace("127.0.0.1", "localhost")))
                .doesNotThrowAnyException();
    }

    @Test
    void aForecastNeverReplacesWhatWasMeasured() {
        TestVineyard vineyard = vineyards.fresh();
        vineyard.run(() -> {
            LocalDate today = current.today();
            weather.record(new DayValues(today, 4, 15, 3.0, null, null, null, null, null, null), null);
            switchOn();
            answerAround(today);
            fetch().fetchIfDue();
            assertThat(weather.record(today).orElseThrow().values().lowC()).isEqualTo(4);
        });
    }
}
