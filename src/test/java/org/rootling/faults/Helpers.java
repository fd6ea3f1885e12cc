package org.rootling.faults;

import java.io.IOException;
import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.atomic.AtomicInteger;

/**
 * Helpers who log weeded places one by one as fast as they can, each entry with its own id, and send an entry again, to any
 * node, until the server says that it has it.
 */
final class Helpers implements AutoCloseable {

    record Entry(UUID id, UUID task, String places) {}

    private final FaultVineyard vineyard;
    private final int[] ports;
    private final HttpClient client =
            HttpClient.newBuilder().connectTimeout(Duration.ofSeconds(2)).build();
    private final ConcurrentLinkedQueue<Entry> work = new ConcurrentLinkedQueue<>();
    private final List<Thread> threads = new ArrayList<>();
    private volatile boolean stopping;

    /** Ids that the server has acknowledged. */
    final Set<UUID> acknowledged = ConcurrentHashMap.newKeySet();

    /** Answers other than 200, by status; faults of the connection as 0. */
    final Map<Integer, AtomicInteger> failures = new ConcurrentHashMap<>();

    /** Answers that were no acknowledgement though the status was 200. */
    final Map<String, AtomicInteger> strange = new ConcurrentHashMap<>();

    Helpers(FaultVineyard vineyard, int many, int... ports) {
        this.vineyard = vineyard;
        this.ports = ports;
        for (int place = 1; place <= FaultVineyard.PLACES; place++) {
            for (int task = 0; task < vineyard.tasks().length; task++) {
                work.add(new Entry(UUID.randomUUID(), vineyard.tasks()[task], FaultVineyard.run(task, place)));
            }
        }
        for (int i = 0; i < many; i++) {
            int at = i;
            Thread thread = new Thread(() -> log(at));
            threads.add(thread);
            thread.start();
        }
    }

    private void log(int first) {
        int node = first;
        for (Entry entry = work.poll(); entry != null && !stopping; entry = work.poll()) {
            while (!acknowledged.contains(entry.id()) && !stopping) {
                if (!send(entry, ports[node % ports.length])) {
                    node++;
                    pause(50);
                }
            }
        }
    }

    private boolean send(Entry entry, int port) {
        String body = "{\"entries\":[{\"id\":\"" + entry.id() + "\",\"task\":\"" + entry.task() + "\",\"places\":\""
                + entry.places() + "\",\"at\":\"" + Instant.ofEpochMilli(System.currentTimeMillis()) + "\"}]}";
        try {
            HttpResponse<String> answer = client.send(
                    HttpRequest.newBuilder(URI.create("http://127.0.0.1:" + port + "/api/v1/field-logs"))
                            .timeout(Duration.ofSeconds(15))
                            .header("Authorization", "Bearer " + vineyard.token())
                            .header("Content-Type", "application/json")
                            .POST(HttpRequest.BodyPublishers.ofString(body))
                            .build(),
                    HttpResponse.BodyHandlers.ofString());
            if (answer.statusCode() == 200) {
                if (answer.body().contains("\"taken\"") || answer.body().contains("\"already taken\"")) {
                    acknowledged.add(entry.id());
                    return true;
                }
                strange.computeIfAbsent(answer.body(), key -> new AtomicInteger())
                        .incrementAndGet();
                return true;
            }
            failures.computeIfAbsent(answer.statusCode(), key -> new AtomicInteger())
                    .incrementAndGet();
        } catch (IOException broken) {
            failures.computeIfAbsent(0, key -> new AtomicInteger()).incrementAndGet();
        } catch (InterruptedException stop) {
            Thread.currentThread().interrupt();
        }
        return false;
    }

    /** Waits until so many more entries are acknowledged than now. */
    void awaitMore(int more, Duration most) {
        int from = acknowledged.size();
        long end = System.nanoTime() + most.toNanos();
        while (acknowledged.size() < from + more) {
            if (System.nanoTime() > end) {
                throw new AssertionError(
                        "only " + (acknowledged.size() - from) + " of " + more + " entries were taken within " + most
                                + "; failures " + new TreeMap<>(failures) + " " + strange);
            }
            pause(20);
        }
    }

    static void pause(long ms) {
        try {
            Thread.sleep(ms);
        } catch (InterruptedException stop) {
            Thread.currentThread().interrupt();
        }
    }

    @Override
    public void close() {
        stopping = true;
        for (Thread thread : threads) {
            try {
                thread.join(20_000);
            } catch (InterruptedException stop) {
                Thread.currentThread().interrupt();
            }
        }
    }
}
