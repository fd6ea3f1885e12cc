package org.rootling.faults;

import com.sun.net.httpserver.HttpExchange;
import com.sun.net.httpserver.HttpServer;
import java.io.IOException;
import java.net.ConnectException;
import java.net.InetAddress;
import java.net.InetSocketAddress;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * A proxy before several nodes, as {@code src/main/docker/Caddyfile} sets one up: it asks each whether it is ready, takes
 * turns, and gives a request to the next when a node takes no connection. What was sent already is never sent twice.
 */
final class TestProxy implements AutoCloseable {

    private static final Duration TRIES = Duration.ofSeconds(10);

    private final HttpServer server;
    private final ExecutorService threads = Executors.newCachedThreadPool();
    private final HttpClient client = HttpClient.newBuilder()
            .version(HttpClient.Version.HTTP_1_1)
            .connectTimeout(Duration.ofSeconds(2))
            .build();
    private final int[] nodes;
    private final boolean[] ready;
    private final AtomicInteger turn = new AtomicInteger();
    private volatile boolean closing;

    private TestProxy(int... nodes) throws IOException {
        this.nodes = nodes.clone();
        this.ready = new boolean[nodes.length];
        java.util.Arrays.fill(ready, true);
        server = HttpServer.create(new InetSocketAddress(InetAddress.getLoopbackAddress(), 0), 0);
        server.setExecutor(threads);
        server.createContext("/", this::pass);
        server.start();
        threads.execute(this::ask);
    }

    static TestProxy before(int... nodes) throws IOException {
        return new TestProxy(nodes);
    }

    int port() {
        return server.getAddress().getPort();
    }

    private void ask() {
        while (!closing) {
            for (int i = 0; i < nodes.length; i++) {
                HttpRequest question = HttpRequest.newBuilder(at(i, "/actuator/health/readiness"))
                        .timeout(Duration.ofSeconds(2))
                        .build();
                boolean well;
                try {
                    well = client.send(question, HttpResponse.BodyHandlers.discarding())
                                    .statusCode()
                            == 200;
                } catch (IOException away) {
                    well = false;
                } catch (InterruptedException stop) {
                    return;
                }
                set(i, well);
            }
            Helpers.pause(200);
        }
    }

    private URI at(int node, String path) {
        return URI.create("http://127.0.0.1:" + nodes[node] + path);
    }

    private synchronized void set(int node, boolean well) {
        ready[node] = well;
    }

    private synchronized int next() {
        for (int i = 0; i < nodes.length; i++) {
            int node = Math.floorMod(turn.getAndIncrement(), nodes.length);
            if (ready[node]) {
                return node;
            }
        }
        return Math.floorMod(turn.getAndIncrement(), nodes.length);
    }

    private void pass(HttpExchange asked) throws IOException {
        try (asked) {
            byte[] body = asked.getRequestBody().readAllBytes();
            HttpResponse<byte[]> passed = passed(asked, body);
            int status = passed == null ? 502 : passed.statusCode();
            byte[] answer = passed == null ? new byte[0] : passed.body();
            asked.sendResponseHeaders(status, answer.length == 0 ? -1 : answer.length);
            if (answer.length > 0) {
                asked.getResponseBody().write(answer);
            }
        }
    }

    /** What a node answered; null where the request was sent and nothing came back, or no node took it. */
    private HttpResponse<byte[]> passed(HttpExchange asked, byte[] body) {
        long end = System.nanoTime() + TRIES.toNanos();
        while (System.nanoTime() < end) {
            int node = next();
            try {
                return client.send(request(asked, node, body), HttpResponse.BodyHandlers.ofByteArray());
            } catch (ConnectException refused) {
                set(node, false);
                Helpers.pause(20);
            } catch (IOException broken) {
                return null;
            } catch (InterruptedException stop) {
                Thread.currentThread().interrupt();
                return null;
            }
        }
        return null;
    }

    private HttpRequest request(HttpExchange asked, int node, byte[] body) {
        HttpRequest.Builder request = HttpRequest.newBuilder(
                        at(node, asked.getRequestURI().toString()))
                .timeout(Duration.ofSeconds(15))
                .method(asked.getRequestMethod(), HttpRequest.BodyPublishers.ofByteArray(body));
        for (String name : new String[] {"Authorization", "Content-Type", "Accept"}) {
            String value = asked.getRequestHeaders().getFirst(name);
            if (value != null) {
                request.header(name, value);
            }
        }
        return request.build();
    }

    @Override
    public void close() {
        closing = true;
        server.stop(0);
        threads.shutdownNow();
    }
}
