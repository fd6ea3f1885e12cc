package org.rootling.bench;

import java.net.URI;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.sql.Timestamp;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.UUID;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.people.domain.PeopleService;
import org.rootling.platform.Tenancy;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.context.event.EventListener;
import org.springframework.core.env.Environment;
import org.springframework.jdbc.core.JdbcTemplate;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.support.TransactionTemplate;

/**
 * Field logs through the API, a thousand entries a request, each one place of a row, against the same rows put into the same
 * table by plain batched inserts, turn by turn in one run; the first rounds do not count, since a program that has just
 * started is still being compiled. Only with {@code rootling.bench=field-logs}.
 */
@Component
class FieldLogBench {
    private static final int ROUNDS = 20;
    private static final int WARM = 12;
    private static final int ENTRIES = 1000;

    private final Environment environment;
    private final JdbcClient jdbc;
    private final JdbcTemplate template;
    private final TransactionTemplate transaction;
    private final PeopleService people;
    private final Vineyards vineyards;

    FieldLogBench(
            Environment environment,
            JdbcClient jdbc,
            JdbcTemplate template,
            TransactionTemplate transaction,
            PeopleService people,
            Vineyards vineyards) {
        this.environment = environment;
        this.jdbc = jdbc;
        this.template = template;
        this.transaction = transaction;
        this.people = people;
        this.vineyards = vineyards;
    }

    private record Place(UUID task, int row, int place) {}

    @EventListener(ApplicationReadyEvent.class)
    void run() throws Exception {
        if (!"field-logs".equals(environment.getProperty("rootling.bench"))) {
            return;
        }
        UUID vineyard = UUID.fromString(environment.getRequiredProperty("rootling.bench.vineyard"));
        UUID account = UUID.fromString(environment.getRequiredProperty("rootling.bench.account"));
        for (String step : List.of("BORE", "WEED")) {
            List<Place> places = new ArrayList<>();
            Tenancy.run(vineyard, account, () -> transaction.executeWithoutResult(t -> places.addAll(tasks(step))));
            String token = Tenancy.as(vineyard, account, () -> people.makeToken("bench", Role.OWNER, account, Role.OWNER));
            measure(step, vineyard, account, token, places);
        }
        System.exit(0);
    }

    /** A block of rows of 200 places, none planted, with a task on each; in an order as from several rows at once. */
    private List<Place> tasks(String step) {
        List<Place> places = new ArrayList<>();
        UUID block = UUID.randomUUID();
        int rows = ROUNDS * ENTRIES / 200;
        jdbc.sql("insert into block (id, code, name, boundary, area_m2, boundary_source, row_spacing_m, vine_spacing_m,"
                        + " row_count, place_count) values (:id, :code, 'Bench', '[[0,0],[300,0],[300,300],[0,300]]', 90000,"
                        + " 'TYPED', 2.2, 1.2, :rows, :places)")
                .param("id", block)
                .param("code", step.substring(0, 1) + "9")
                .param("rows", rows)
                .param("places", rows * 200)
                .update();
        for (int r = 1; r <= rows; r++) {
            UUID row = UUID.randomUUID();
            UUID task = UUID.randomUUID();
            jdbc.sql("insert into vine_row (id, block_id, number, places) values (:id, :block, :number, 200)")
                    .param("id", row)
                    .param("block", block)
                    .param("number", r)
                    .update();
            jdbc.sql("insert into row_stretch (id, row_id, segment, first_place, places, start_x, start_y, end_x, end_y,"
                            + " start_gap_m, end_gap_m, vine_spacing_m)"
                            + " values (:id, :row, 1, 1, 200, :x, 0, :x, 240, 0.6, 0.6, 1.2)")
                    .param("id", UUID.randomUUID())
                    .param("row", row)
                    .param("x", 2.2 * r)
                    .update();
            jdbc.sql("insert into task (id, step, row_id, places, quantity) values (:id, :step, :row, '{[1,201)}', 200)")
                    .param("id", task)
                    .param("step", step)
                    .param("row", row)
                    .update();
            for (int p = 1; p <= 200; p++) {
                places.add(new Place(task, r, p));
            }
        }
        // Ten rows at a time, their places mixed.
        for (int i = 0; i + 2000 <= places.size(); i += 2000) {
            Collections.shuffle(places.subList(i, i + 2000), new java.util.Random(i));
        }
        return places;
    }

    private void measure(String step, UUID vineyard, UUID account, String token, List<Place> places) throws Exception {
        HttpClient client = HttpClient.newHttpClient();
        URI uri = URI.create("http://127.0.0.1:" + environment.getRequiredProperty("local.server.port") + "/api/v1/field-logs");
        List<Double> api = new ArrayList<>();
        List<Double> plain = new ArrayList<>();
        for (int round = 0; round < ROUNDS; round++) {
            List<Place> part = places.subList(round * ENTRIES, (round + 1) * ENTRIES);
            StringBuilder body = new StringBuilder("{\"entries\":[");
            String at = Tenancy.as(vineyard, account, vineyards::now).minusSeconds(60).toString();
            for (int i = 0; i < part.size(); i++) {
                Place p = part.get(i);
                body.append(i == 0 ? "" : ",").append("{\"id\":\"").append(UUID.randomUUID()).append("\",\"task\":\"").append(p.task())
                        .append("\",\"places\":\"").append(step, 0, 1).append("9 r").append(p.row()).append(' ').append(p.place())
                        .append("\",\"minutes\":2,\"at\":\"").append(at).append("\"}");
            }
            String text = body.append("]}").toString();
            long t0 = System.nanoTime();
            HttpResponse<String> answer = client.send(
                    HttpRequest.newBuilder(uri).header("Authorization", "Bearer " + token).header("Content-Type", "application/json")
                            .POST(HttpRequest.BodyPublishers.ofString(text)).build(),
                    HttpResponse.BodyHandlers.ofString());
            double took = (System.nanoTime() - t0) / 1e9;
            int taken = answer.body().split("\"taken\"", -1).length - 1;
            if (taken != ENTRIES) {
                throw new IllegalStateException(answer.statusCode() + ": " + taken + " taken, " + answer.body().substring(0, 300));
            }
            t0 = System.nanoTime();
            Tenancy.run(vineyard, account, () -> insert(part, account));
            double direct = (System.nanoTime() - t0) / 1e9;
            if (round >= WARM) {
                api.add(took);
                plain.add(direct);
            }
        }
        Collections.sort(api);
        Collections.sort(plain);
        double a = api.get(api.size() / 2);
        double b = plain.get(plain.size() / 2);
        System.out.printf("field logs (%s): %.0f entries per second through the API, %.0f per second by plain batched inserts,"
                + " ratio %.2f (median of %d rounds of %d)%n", step, ENTRIES / a, ENTRIES / b, a / b, api.size(), ENTRIES);
    }

    private void insert(List<Place> part, UUID account) {
        Timestamp now = Timestamp.from(Instant.now());
        transaction.executeWithoutResult(t -> template.batchUpdate(
                "insert into task_log (id, task_id, places, place_count, minutes, on_day, at, by_account, note, taken_at, person_id)"
                        + " values (?, ?, ?::int4multirange, ?, ?, ?, ?, ?, ?, ?, ?)",
                part,
                200,
                (s, p) -> {
                    s.setObject(1, UUID.randomUUID());
                    s.setObject(2, p.task());
                    s.setString(3, "{[" + p.place() + "," + (p.place() + 1) + ")}");
                    s.setInt(4, 1);
                    s.setObject(5, 2);
                    s.setObject(6, java.time.LocalDate.now());
                    s.setTimestamp(7, now);
                    s.setObject(8, account);
                    s.setString(9, null);
                    s.setTimestamp(10, now);
                    s.setObject(11, null);
                }));
    }
}
