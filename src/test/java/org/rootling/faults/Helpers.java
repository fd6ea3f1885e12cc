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
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Collectors;

/**
 * Helpers who log weeded places one by one as fast as they can, each entry with its own id, and send an entry again, to any
 * node, until the server says that it has it. The first of them was without signal and sends what has gathered, two hundred
 * entries at a time.
 */
final class Helpers implements AutoCloseable {

    record Entry(UUID id, UUID task, String places) {}

    private static final int GATHERED = 200;
    private static final Pattern TAKEN =
            Pattern.compile("\"id\":\"([0-9a-f-]{36})\",\"result\":\"(?:already )?taken\"");

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
        for (List<Entry> some = next(first); !some.isEmpty() && !stopping; some = next(first)) {
            while (!some.isEmpty() && !stopping) {
                if (!send(some, ports[node % ports.length])) {
                    node++;
                    pause(50);
                }
                some.removeIf(entry -> acknowledged.contains(entry.id()));
            }
            pause(first == 0 ? 250 : 0);
        }
    }

    private List<Entry> next(int helper) {
        List<Entry> some = new ArrayList<>();
        for (int i = 0; i < (helper == 0 ? GATHERED : 1); i++) {
            Entry entry = work.poll();
            if (entry != null) {
                some.add(entry);
            }
        }
        return some;
    }

    private boolean send(List<Entry> entries, int port) {
        String at = Instant.ofEpochMilli(System.currentTimeMillis()).toString();
        String body = entries.stream()
                .map(entry -> "{\"id\":\"" + entry.id() + "\",\"task\":\"" + entry.task() + "\",\"places\":\""
                        + entry.places() + "\",\"at\":\"" + at + "\"}")
                .collect(Collectors.joining(",", "{\"entries\":[", "]}"));
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
                int taken = 0;
                for (Matcher found = TAKEN.matcher(answer.body()); found.find(); taken++) {
                    acknowledged.add(UUID.fromString(found.group(1)));
                }
                if (taken < entries.size()) {
                    strange.computeIfAbsent(answer.body(), key -> new AtomicInteger())
                            .incrementAndGet();
                }
                return taken == entries.size();
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
