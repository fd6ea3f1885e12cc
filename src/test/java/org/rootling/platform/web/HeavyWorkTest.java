package org.rootling.platform.web;

import static org.assertj.core.api.Assertions.assertThat;

import jakarta.servlet.FilterChain;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.concurrent.CountDownLatch;
import org.junit.jupiter.api.Test;
import org.springframework.mock.env.MockEnvironment;
import org.springframework.mock.web.MockHttpServletRequest;
import org.springframework.mock.web.MockHttpServletResponse;

/** One address asks for too much; another is served all the same. */
class HeavyWorkTest {

    private static final Instant NOW = Instant.parse("2027-05-01T10:00:00Z");
    private static final FilterChain SERVED = (request, response) -> {};

    private final HeavyWork work = work(NOW);

    private static HeavyWork work(Instant now) {
        return new HeavyWork(
                Clock.fixed(now, ZoneOffset.UTC),
                new MockEnvironment()
                        .withProperty("rootling.limits.at-once", "2")
                        .withProperty("rootling.limits.passwords-a-minute", "5")
                        .withProperty("rootling.limits.files-a-minute", "3")
                        .withProperty("rootling.limits.wait-ms", "100"));
    }

    @Test
    void passwordsAreTakenSoManyAMinuteFromOneAddress() throws Exception {
        for (int i = 0; i < 5; i++) {
            assertThat(ask("POST", "/sign-in", "10.1.1.1", SERVED).getStatus()).isEqualTo(200);
        }
        MockHttpServletResponse sixth = ask("POST", "/sign-in", "10.1.1.1", SERVED);
        assertThat(sixth.getStatus()).isEqualTo(429);
        assertThat(sixth.getHeader("Retry-After")).isEqualTo("60");
        assertThat(ask("POST", "/sign-in", "10.1.1.2", SERVED).getStatus()).isEqualTo(200);
        assertThat(ask("GET", "/sign-in", "10.1.1.1", SERVED).getStatus()).isEqualTo(200);
    }

    /** Routes are matched decoded; an address written otherwise is the same address. */
    @Test
    void anAddressWrittenOtherwiseCountsAsWell() throws Exception {
        for (String path : new String[] {"/sign-%69n", "/%73ign-in", "/sign-in", "/sign%2Din", "/account/password"}) {
            assertThat(ask("POST", path, "10.1.1.3", SERVED).getStatus()).isEqualTo(200);
        }
        assertThat(ask("POST", "/sign-%69n", "10.1.1.3", SERVED).getStatus()).isEqualTo(429);
    }

    @Test
    void filesMadeOnDemandAreLimitedAndPagesAreNot() throws Exception {
        for (int i = 0; i < 3; i++) {
            assertThat(ask("GET", "/v/x/archive.zip", "10.1.1.1", SERVED).getStatus())
                    .isEqualTo(200);
        }
        assertThat(ask("GET", "/v/x/review/report.pdf", "10.1.1.1", SERVED).getStatus())
                .isEqualTo(429);
        for (int i = 0; i < 100; i++) {
            assertThat(ask("GET", "/v/x/lots", "10.1.1.1", SERVED).getStatus()).isEqualTo(200);
        }
    }

    @Test
    void noMoreThanAFewAreAtWorkAtOnceForOneAddress() throws Exception {
        CountDownLatch inside = new CountDownLatch(2);
        CountDownLatch go = new CountDownLatch(1);
        FilterChain slow = (request, response) -> {
            inside.countDown();
            await(go);
        };
        Thread[] busy = new Thread[2];
        for (int i = 0; i < 2; i++) {
            busy[i] = new Thread(() -> {
                try {
                    ask("GET", "/v/x/a.zip", "10.1.1.1", slow);
                } catch (Exception failure) {
                    throw new IllegalStateException(failure);
                }
            });
            busy[i].start();
        }
        await(inside);
        assertThat(ask("GET", "/v/x/a.zip", "10.1.1.1", SERVED).getStatus()).isEqualTo(429);
        assertThat(ask("GET", "/v/x/a.zip", "10.1.1.9", SERVED).getStatus()).isEqualTo(200);
        go.countDown();
        for (Thread thread : busy) {
            thread.join(Duration.ofSeconds(5).toMillis());
        }
        assertThat(ask("POST", "/api/v1/layout-previews", "10.1.1.1", SERVED).getStatus())
                .isEqualTo(200);
    }

    private static void await(CountDownLatch latch) {
        try {
            latch.await();
        } catch (InterruptedException stop) {
            throw new IllegalStateException(stop);
        }
    }

    private MockHttpServletResponse ask(String method, String path, String address, FilterChain chain)
            throws Exception {
        MockHttpServletRequest request = new MockHttpServletRequest(method, path);
        request.setRemoteAddr(address);
        MockHttpServletResponse response = new MockHttpServletResponse();
        work.doFilter(request, response, chain);
        return response;
    }
}
