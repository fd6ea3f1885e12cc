import java.io.IOException;
import java.net.CookieManager;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.CountDownLatch;
import java.util.concurrent.Executors;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.atomic.AtomicInteger;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/**
 * Many people at once: helpers who open their day and log a weeded place, and leads who read. Everyone has a session of
 * their own and does something every so many seconds on average (exponential). First two people alone do the same things,
 * one after another, for the unloaded medians. Arguments: address, password, file of people, seconds, mean pause in seconds,
 * the instant of the logs, and, where nobody is to be alone first, the place that the logs begin at. A line of the file: vineyard, email, role, token, task, its row as in "B2 r7", its places, and
 * the row that a lead looks at, with tabs between.
 */
final class Crowd {

    private static final Pattern CSRF = Pattern.compile("name=\"_csrf\" value=\"([^\"]+)\"");

    private final String base;
    private final String password;
    private final double pauseSeconds;
    private final Instant now;
    private final Map<String, List<Double>> times = new ConcurrentHashMap<>();
    private final Map<String, AtomicInteger> errors = new ConcurrentHashMap<>();
    private final List<Slow> slowest = Collections.synchronizedList(new ArrayList<>());
    private long began;

    private record Slow(double ms, String what, double atSeconds) {}

    private Crowd(String base, String password, double pauseSeconds, Instant now) {
        this.base = base;
        this.password = password;
        this.pauseSeconds = pauseSeconds;
        this.now = now;
    }

    public static void main(String[] args) throws Exception {
        Crowd crowd = new Crowd(args[0], args[1], Double.parseDouble(args[4]), Instant.parse(args[5]));
        List<String> lines = java.nio.file.Files.readAllLines(java.nio.file.Path.of(args[2]));
        int people = lines.size();
        int seconds = Integer.parseInt(args[3]);
        List<Person> all = Collections.synchronizedList(new ArrayList<>());
        ExecutorService doors = Executors.newFixedThreadPool(4);
        for (int n = 1; n <= people; n++) {
            int number = n;
            doors.submit(() -> all.add(crowd.new Person(number, lines.get(number - 1).split("\t"))));
        }
        doors.shutdown();
        if (!doors.awaitTermination(10, java.util.concurrent.TimeUnit.MINUTES) || all.size() < people) {
            throw new IllegalStateException("only " + all.size() + " of " + people + " could sign in: " + crowd.errors);
        }
        all.sort(java.util.Comparator.comparingInt(person -> person.number));
        System.out.println(people + " people signed in");
        if (args.length > 6) {
            all.forEach(person -> person.place = Integer.parseInt(args[6]));
        }
        Map<String, Double> alone = args.length > 6 ? Map.of() : crowd.alone(all);
        crowd.times.clear();
        crowd.together(all, seconds);
        crowd.print(alone, people, seconds);
    }

    private Map<String, Double> alone(List<Person> all) {
        for (int warm = 0; warm < 2; warm++) {
            times.clear();
            for (int i = 0; i < 40; i++) {
                all.get(i % 2).act();
            }
        }
        times.clear();
        for (int i = 0; i < 160; i++) {
            all.get(i % 2).act();
        }
        Map<String, Double> medians = new TreeMap<>();
        times.forEach((what, list) -> medians.put(what, at(list, 0.5)));
        return medians;
    }

    private void together(List<Person> all, int seconds) throws InterruptedException {
        CountDownLatch done = new CountDownLatch(all.size());
        slowest.clear();
        began = System.nanoTime();
        long end = System.nanoTime() + Duration.ofSeconds(seconds).toNanos();
        for (Person person : all) {
            Thread thread = new Thread(() -> {
                // not Random: the first draws of neighbouring seeds are nearly the same, and all would come at once
                SplittableRandom random = new SplittableRandom(person.number);
                while (true) {
                    long pause = (long) (-Math.log(1 - random.nextDouble()) * pauseSeconds * 1000);
                    if (System.nanoTime() + pause * 1_000_000 > end) {
                        break;
                    }
                    sleep(pause);
                    person.act();
                }
                done.countDown();
            });
            thread.setDaemon(true);
            thread.start();
        }
        done.await();
    }

    private void print(Map<String, Double> alone, int people, int seconds) {
        int count = times.values().stream().mapToInt(List::size).sum();
        int failed = errors.values().stream().mapToInt(AtomicInteger::get).sum();
        System.out.printf("%d people for %d s: %d answers, %d errors %s%n", people, seconds, count, failed, new TreeMap<>(errors));
        if (!slowest.isEmpty()) {
            slowest.sort(java.util.Comparator.comparingDouble(Slow::atSeconds));
            System.out.printf(
                    "%d answers took over a second, asked for between second %.0f and %.0f; the first: %s%n",
                    slowest.size(), slowest.get(0).atSeconds(), slowest.get(slowest.size() - 1).atSeconds(), slowest.subList(0, Math.min(5, slowest.size())));
        }
        double worst = 0;
        for (Map.Entry<String, List<Double>> each : new TreeMap<>(times).entrySet()) {
            double median = alone.getOrDefault(each.getKey(), Double.NaN);
            double p95 = at(each.getValue(), 0.95);
            worst = Math.max(worst, p95 / median);
            System.out.printf(
                    "%-10s %stogether, median %6.1f ms, 95th percentile %6.1f ms (%d answers)%n",
                    each.getKey(),
                    alone.isEmpty() ? "" : String.format("alone, median %6.1f ms; ratio %.2f; ", median, p95 / median),
                    at(each.getValue(), 0.5),
                    p95,
                    each.getValue().size());
        }
        if (!alone.isEmpty()) {
            System.out.printf("load, %d people: errors %d, worst 95th percentile %.2f times the unloaded median%n", people, failed, worst);
        }
    }

    private static double at(List<Double> list, double share) {
        List<Double> sorted = new ArrayList<>(list);
        Collections.sort(sorted);
        return sorted.get((int) Math.min(sorted.size() - 1, Math.floor(share * sorted.size())));
    }

    private static void sleep(long ms) {
        try {
            Thread.sleep(ms);
        } catch (InterruptedException stop) {
            Thread.currentThread().interrupt();
        }
    }

    private final class Person {
        private final int number;
        private final boolean helper;
        private final String[] line;
        private final HttpClient client;
        private int step;
        private int place = 1;

        Person(int number, String[] line) {
            this.number = number;
            this.line = line;
            this.helper = line[2].equals("HELPER");
            this.client = HttpClient.newBuilder().cookieHandler(new CookieManager()).build();
            String page = body(get("/sign-in"));
            Matcher csrf = CSRF.matcher(page);
            if (!csrf.find()) {
                throw new IllegalStateException("no sign-in form");
            }
            String form = "_csrf=" + encoded(csrf.group(1)) + "&email=" + encoded(line[1]) + "&password=" + encoded(password);
            HttpResponse<String> answer = send(HttpRequest.newBuilder(URI.create(base + "/sign-in"))
                    .header("Content-Type", "application/x-www-form-urlencoded")
                    .POST(HttpRequest.BodyPublishers.ofString(form))
                    .build());
            if (answer == null || answer.statusCode() != 302 || answer.headers().firstValue("Location").orElse("").contains("failed")) {
                errors.computeIfAbsent("sign-in", key -> new AtomicInteger()).incrementAndGet();
                throw new IllegalStateException("not signed in");
            }
        }

        /** The next thing this person does. */
        void act() {
            step++;
            String vineyard = "/v/" + line[0];
            if (helper) {
                if (step % 2 == 1) {
                    timed("my-day", get(vineyard + "/my-day"));
                } else {
                    timed("log", log());
                }
            } else {
                switch (step % 4) {
                    case 0 -> timed("today", get(vineyard + "/"));
                    case 1 -> timed("progress", get(vineyard + "/progress"));
                    case 2 -> timed("lots", get(vineyard + "/lots"));
                    default -> timed("row", get(vineyard + "/rows/" + line[7]));
                }
            }
        }

        private HttpRequest log() {
            int at = place++ % Integer.parseInt(line[6]) + 1;
            String entry = "{\"entries\":[{\"id\":\"" + UUID.randomUUID() + "\",\"task\":\"" + line[4] + "\",\"places\":\"" + line[5]
                    + " " + at + "\",\"at\":\"" + now + "\"}]}";
            return HttpRequest.newBuilder(URI.create(base + "/api/v1/field-logs"))
                    .header("Authorization", "Bearer " + line[3])
                    .header("Content-Type", "application/json")
                    .POST(HttpRequest.BodyPublishers.ofString(entry))
                    .build();
        }

        private HttpRequest get(String path) {
            return HttpRequest.newBuilder(URI.create(base + path)).build();
        }

        private void timed(String what, HttpRequest request) {
            long from = System.nanoTime();
            HttpResponse<String> answer = send(request);
            double ms = (System.nanoTime() - from) / 1e6;
            if (answer == null || answer.statusCode() != 200 || what.equals("log") && !answer.body().contains("taken")) {
                String why = answer == null ? "no answer" : answer.statusCode() + answer.body().replaceAll("(?s).*\"code\":\"([^\"]*)\".*|.*", " $1");
                errors.computeIfAbsent(what + " " + why, key -> new AtomicInteger()).incrementAndGet();
                return;
            }
            if (ms > 1000) {
                slowest.add(new Slow(ms, what, (from - began) / 1e9));
            }
            times.computeIfAbsent(what, key -> Collections.synchronizedList(new ArrayList<>())).add(ms);
        }

        private String body(HttpRequest request) {
            HttpResponse<String> answer = send(request);
            return answer == null ? "" : answer.body();
        }

        private HttpResponse<String> send(HttpRequest request) {
            try {
                return client.send(request, HttpResponse.BodyHandlers.ofString());
            } catch (IOException broken) {
                return null;
            } catch (InterruptedException stop) {
                Thread.currentThread().interrupt();
                return null;
            }
        }
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }
}
