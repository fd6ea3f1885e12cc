package org.rootling.review.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.rootling.people.Role;
import org.rootling.review.calc.FisherExact;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

@AppTest
class SurvivalApiTest {

    @Autowired
    TestVineyards vineyards;

    private TestVineyard vineyard;

    @BeforeEach
    void vineyard() {
        vineyard = vineyards.fresh();
    }

    /** Check values S11 and S12 (Wilson) through the whole stack. */
    @Test
    void shares_come_with_wilsons_interval_and_each_pair_with_its_p() {
        TestApi.Answer answer = previews("""
                {"groups":[{"name":"A","planted":100,"alive":95},{"name":"B","planted":50,"alive":47},
                           {"name":"C","planted":20,"alive":4}],"confidence":0.95}""");

        assertThat(answer.status()).isEqualTo(200);
        var groups = answer.json().get("groups");
        assertThat(groups.get(0).get("share").asDouble()).isEqualTo(0.95);
        assertThat(groups.get(0).get("low").asDouble()).isCloseTo(0.88824953, within(1e-7));
        assertThat(groups.get(0).get("high").asDouble()).isCloseTo(0.97845632, within(1e-7));
        assertThat(groups.get(1).get("low").asDouble()).isCloseTo(0.83782908, within(1e-7));
        var pairs = answer.json().get("pairs");
        assertThat(pairs.size()).isEqualTo(3);
        assertThat(pairs.get(0).get("a").asString()).isEqualTo("A");
        assertThat(pairs.get(0).get("b").asString()).isEqualTo("B");
        assertThat(pairs.get(0).get("p").asDouble()).isCloseTo(FisherExact.twoSided(95, 5, 47, 3), within(1e-12));
        assertThat(pairs.get(1).get("correctedP").asDouble())
                .isCloseTo(3 * FisherExact.twoSided(95, 5, 4, 16), within(1e-12));
    }

    @Test
    void one_group_all_alive_all_dead_and_a_million_are_answered() {
        var one = previews("{\"groups\":[{\"name\":\"A\",\"planted\":1,\"alive\":0}]}");
        assertThat(one.status()).isEqualTo(200);
        assertThat(one.json().get("pairs").size()).isZero();
        assertThat(one.json().get("confidence").asDouble()).isEqualTo(0.95);
        assertThat(one.json().get("groups").get(0).get("smallNumbers").asBoolean())
                .isTrue();

        var same = previews(
                "{\"groups\":[{\"name\":\"A\",\"planted\":10,\"alive\":10},{\"name\":\"B\",\"planted\":7,\"alive\":7}]}");
        assertThat(same.json().get("pairs").get(0).get("p").asDouble()).isEqualTo(1);
        assertThat(same.json().get("groups").get(0).get("high").asDouble()).isEqualTo(1);

        var million = previews(
                "{\"groups\":[{\"name\":\"A\",\"planted\":1000000,\"alive\":960000},{\"name\":\"B\",\"planted\":1000000,\"alive\":0}]}");
        assertThat(million.status()).isEqualTo(200);
        assertThat(million.json().get("groups").get(1).get("low").asDouble()).isZero();
        assertThat(million.json().get("pairs").get(0).get("p").asDouble()).isZero();
    }

    @ParameterizedTest(name = "{1}")
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"groups\":[{\"name\":\"A\",\"planted\":10,\"alive\":11}]} | groups[0].alive",
                "{\"groups\":[{\"name\":\"A\",\"planted\":10,\"alive\":-1}]} | groups[0].alive",
                "{\"groups\":[{\"name\":\"A\",\"planted\":-3,\"alive\":0}]} | groups[0].planted",
                "{\"groups\":[{\"name\":\"A\",\"planted\":0,\"alive\":0}]} | groups[0].planted",
                "{\"groups\":[{\"name\":\"A\",\"planted\":10.5,\"alive\":3}]} | groups[0].planted",
                "{\"groups\":[{\"name\":\"A\",\"planted\":1e300,\"alive\":3}]} | groups[0].planted",
                "{\"groups\":[{\"name\":\"A\",\"alive\":3}]} | groups[0].planted",
                "{\"groups\":[{\"planted\":10,\"alive\":3}]} | groups[0].name",
                "{\"groups\":[{\"name\":\"A\",\"planted\":5,\"alive\":3},{\"name\":\"A\",\"planted\":5,\"alive\":3}]} | groups[1].name",
                "{\"groups\":[null]} | groups[0]",
                "{\"groups\":[]} | groups",
                "{} | groups",
                "{\"groups\":[{\"name\":\"A\",\"planted\":5,\"alive\":3}],\"confidence\":1} | confidence",
                "{\"groups\":[{\"name\":\"A\",\"planted\":5,\"alive\":3}],\"confidence\":95} | confidence",
                "{\"groups\":[{\"name\":\"A\",\"planted\":5,\"alive\":3}],\"confidence\":-0.5} | confidence"
            })
    void what_cannot_be_is_refused_at_its_field(String body, String field) {
        TestApi.Answer answer = previews(body);

        assertThat(answer.status()).isEqualTo(422);
        assertThat(answer.contentType()).startsWith("application/problem+json");
        assertThat(answer.json().get("field").asString()).isEqualTo(field);
        assertThat(answer.json().get("detail").asString()).isNotBlank().doesNotContain("review.api");
    }

    @ParameterizedTest
    @CsvSource(
            delimiter = '|',
            value = {"{", "[]", "\"x\"", "{\"groups\":\"x\"}", "{\"groups\":[{\"name\":\"A\",\"planted\":\"x\"}]}"})
    void what_is_not_of_the_shape_is_a_400_problem(String body) {
        TestApi.Answer answer = previews(body);

        assertThat(answer.status()).isEqualTo(400);
        assertThat(answer.contentType()).startsWith("application/problem+json");
    }

    @Test
    void curves_have_steps_median_and_the_test_between_groups() {
        TestApi.Answer answer = curves("""
                {"lives":[{"group":"A","days":6,"died":true},{"group":"A","days":6,"died":true},
                 {"group":"A","days":6,"died":false},{"group":"A","days":10,"died":true},
                 {"days":9,"died":false,"group":"B"},{"group":"B","days":10,"died":true}]}""");

        assertThat(answer.status()).isEqualTo(200);
        var a = answer.json().get("groups").get(0);
        assertThat(a.get("group").asString()).isEqualTo("A");
        assertThat(a.get("median").asInt()).isEqualTo(6);
        assertThat(a.get("steps").size()).isEqualTo(2);
        var step = a.get("steps").get(0);
        assertThat(step.get("days").asInt()).isEqualTo(6);
        assertThat(step.get("atRisk").asInt()).isEqualTo(4);
        assertThat(step.get("events").asInt()).isEqualTo(2);
        assertThat(step.get("survival").asDouble()).isEqualTo(0.5);
        assertThat(step.get("standardError").asDouble()).isCloseTo(0.25, within(1e-12));
        assertThat(a.get("steps").get(1).get("standardError").isNull()).isTrue();
        assertThat(answer.json().get("logRank").get("degreesOfFreedom").asInt()).isOne();
    }

    @Test
    void a_hundred_thousand_lives_are_summed_while_read() {
        StringBuilder body = new StringBuilder("{\"lives\":[");
        for (int i = 0; i < 100_000; i++) {
            body.append(i == 0 ? "" : ",")
                    .append("{\"group\":\"")
                    .append(i % 2 == 0 ? 'A' : 'B')
                    .append("\",\"days\":")
                    .append(i % 400)
                    .append(",\"died\":")
                    .append(i % 10 == 0)
                    .append('}');
        }
        TestApi.Answer answer = curves(body.append("]}").toString());

        assertThat(answer.status()).isEqualTo(200);
        assertThat(answer.json().get("groups").get(0).get("lives").asInt()).isEqualTo(50_000);
        assertThat(answer.json().get("groups").get(0).get("deaths").asInt()).isEqualTo(10_000);
    }

    @Test
    void all_alive_and_a_single_life_are_answered() {
        TestApi.Answer answer = curves("{\"lives\":[{\"group\":\"A\",\"days\":41,\"died\":false}]}");

        assertThat(answer.status()).isEqualTo(200);
        assertThat(answer.json().get("groups").get(0).get("steps").size()).isZero();
        assertThat(answer.json().get("groups").get(0).get("median").isNull()).isTrue();
        assertThat(answer.json().get("logRank").isNull()).isTrue();
    }

    @ParameterizedTest(name = "{1}")
    @CsvSource(
            delimiter = '|',
            value = {
                "{\"lives\":[{\"group\":\"A\",\"days\":-1,\"died\":true}]} | lives[0].days",
                "{\"lives\":[{\"group\":\"A\",\"days\":1.5,\"died\":true}]} | lives[0].days",
                "{\"lives\":[{\"group\":\"A\",\"days\":99999999999,\"died\":true}]} | lives[0].days",
                "{\"lives\":[{\"group\":\"A\",\"days\":\"7\",\"died\":true}]} | lives[0].days",
                "{\"lives\":[{\"group\":\"A\",\"days\":1,\"died\":true},{\"group\":\"A\",\"days\":1}]} | lives[1].died",
                "{\"lives\":[{\"group\":\"\",\"days\":1,\"died\":true}]} | lives[0].group",
                "{\"lives\":[{\"days\":1,\"died\":true}]} | lives[0].group",
                "{\"lives\":[7]} | lives[0]",
                "{\"lives\":[]} | lives",
                "{\"lives\":{}} | lives",
                "{} | lives"
            })
    void a_life_that_cannot_be_is_refused_at_its_field(String body, String field) {
        TestApi.Answer answer = curves(body);

        assertThat(answer.status()).isEqualTo(422);
        assertThat(answer.json().get("field").asString()).isEqualTo(field);
        assertThat(answer.json().get("detail").asString()).isNotBlank().doesNotContain("review.api");
    }

    private TestApi.Answer previews(String body) {
        return TestApi.post(vineyard, Role.READER, "/api/v1/survival-previews", body);
    }

    private TestApi.Answer curves(String body) {
        return TestApi.post(vineyard, Role.READER, "/api/v1/survival-curves", body);
    }
}
