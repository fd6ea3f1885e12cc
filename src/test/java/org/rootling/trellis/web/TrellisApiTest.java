package org.rootling.trellis.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

@AppTest
class TrellisApiTest {
    private static final String GOOD = """
            {"endPost":{"lengthM":2.4,"leanDeg":20,"buriedM":0.8,"tieHeightM":null,"anchorDistanceM":1.9},
             "wires":[{"heightM":0.8,"count":1,"tensionN":900,"diameterMm":2.5,"tailM":1.0,"coilM":648}],
             "linePostMaxSpanM":6,"rows":[{"lengthM":84.0,"vines":70}]}""";

    @Autowired
    TestVineyards vineyards;

    @Test
    void answersTheContractsExample() {
        TestApi.Answer answer = TestApi.post(vineyards.fresh(), Role.READER, "/api/v1/trellis-previews", GOOD);
        assertThat(answer.status()).isEqualTo(200);
        assertThat(answer.json().at("/linePosts").asInt()).isEqualTo(13);
        assertThat(answer.json().at("/stakes").asInt()).isEqualTo(70);
        assertThat(answer.json().at("/guards").asInt()).isEqualTo(70);
        assertThat(answer.json().at("/endPost/topHeightM").asDouble()).isCloseTo(1.5035, within(1e-4));
        assertThat(answer.json().at("/endPost/setBackM").asDouble()).isCloseTo(0.5472, within(1e-4));
        assertThat(answer.json().at("/endPost/depthM").asDouble()).isCloseTo(0.7518, within(1e-4));
        assertThat(answer.json().at("/endPost/pullN").asDouble()).isEqualTo(900);
        assertThat(answer.json().at("/endPost/momentNm").asDouble()).isCloseTo(720, within(1e-9));
        assertThat(answer.json().at("/endPost/upliftN").asDouble()).isCloseTo(378.95, within(0.01));
        assertThat(answer.json().at("/endPost/tieForceN").asDouble()).isCloseTo(509.75, within(0.1));
        assertThat(answer.json().at("/wires/0/metres").asDouble()).isEqualTo(86);
        assertThat(answer.json().at("/wires/0/coils").asInt()).isEqualTo(1);
        // T07: 0.03853 kg/m
        assertThat(answer.json().at("/wires/0/kg").asDouble()).isCloseTo(3.3136, within(0.005));
        assertThat(answer.json().at("/wires/0/sagM").asDouble()).isCloseTo(0.00189, within(1e-5));
    }

    @Test
    void namesEveryWrongField() {
        String bad = GOOD.replace("\"leanDeg\":20", "\"leanDeg\":50")
                .replace("\"heightM\":0.8", "\"heightM\":-0.3")
                .replace("\"tensionN\":900", "\"tensionN\":90000")
                .replace("\"linePostMaxSpanM\":6", "\"linePostMaxSpanM\":100");
        TestApi.Answer answer = TestApi.post(vineyards.fresh(), Role.OWNER, "/api/v1/trellis-previews", bad);
        assertThat(answer.status()).isEqualTo(422);
        assertThat(answer.contentType()).startsWith("application/problem+json");
        assertThat(answer.json().at("/errors").findValuesAsString("field"))
                .containsExactly("endPost.leanDeg", "wires[0].heightM", "wires[0].tensionN", "linePostMaxSpanM");
        assertThat(answer.json().at("/errors/2/message").asString()).contains("6,062 N");
    }

    @Test
    void refusesWhatIsNotAPreview() {
        for (String body : new String[] {
            "", "null", "[]", "{}", "{\"wires\":7}", "{\"rows\":[null]}", "{\"endPost\":{\"lengthM\":1e999}}"
        }) {
            TestApi.Answer answer = TestApi.post(vineyards.fresh(), Role.OWNER, "/api/v1/trellis-previews", body);
            assertThat(answer.status()).as(body).isBetween(400, 422);
            assertThat(answer.contentType()).as(body).startsWith("application/problem+json");
        }
    }
}
