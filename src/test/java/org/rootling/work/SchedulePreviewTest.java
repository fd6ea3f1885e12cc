package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestApi;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

@AppTest
class SchedulePreviewTest {
    private static final String PEOPLE =
            "\"people\":[{\"id\":\"p1\",\"hours\":{\"MON\":6,\"TUE\":6,\"SAT\":8},\"skills\":[\"bore\"],\"daysOff\":[\"2027-04-10\"]}]";

    @Autowired
    TestVineyards vineyards;

    private TestVineyard vineyard;

    @BeforeEach
    void aVineyard() {
        vineyard = vineyards.fresh();
    }

    private TestApi.Answer preview(String rest) {
        return TestApi.post(
                vineyard,
                Role.READER,
                "/api/v1/schedule-previews",
                "{\"start\":\"2027-04-05\"," + rest + ",\"seconds\":1}");
    }

    @Test
    void oneTaskIsDoneFromEightInTheMorning() {
        TestApi.Answer a = preview(PEOPLE + ",\"tools\":[{\"id\":\"auger\",\"count\":1}],\"tasks\":[{\"id\":\"t1\","
                + "\"personHours\":7.6,\"minPeople\":1,\"maxPeople\":2,\"skill\":\"bore\",\"tool\":\"auger\",\"after\":[],"
                + "\"waitDays\":0,\"earliest\":\"2027-04-05\",\"due\":\"2027-04-05\",\"weight\":120}],\"pinned\":[]");
        assertThat(a.status()).isEqualTo(200);
        assertThat(a.json().at("/assignments").size()).isEqualTo(2);
        assertThat(a.json().at("/assignments/0/from").asString()).isEqualTo("08:00");
        assertThat(a.json().at("/assignments/0/to").asString()).isEqualTo("14:00");
        // 7.6 hours are 31 quarters: 24 on Monday, 7 on Tuesday.
        assertThat(a.json().at("/assignments/1/to").asString()).isEqualTo("09:45");
        assertThat(a.json().at("/finish").asString()).isEqualTo("2027-04-06");
        assertThat(a.json().at("/late/0/days").asInt()).isEqualTo(1);
        assertThat(a.json().at("/late/0/weight").asInt()).isEqualTo(120);
        assertThat(a.json().at("/bound/finish").asString()).isEqualTo("2027-04-06");
        assertThat(a.json().at("/bound/weightedLateDays").asInt()).isEqualTo(120);
        assertThat(a.json().at("/state").asString()).isEqualTo("proven best");
    }

    @Test
    void anImpossibleOrderIsAProblemThatNamesIt() {
        TestApi.Answer circle =
                preview(PEOPLE + ",\"tasks\":[{\"id\":\"north\",\"personHours\":1,\"after\":[\"south\"]},"
                        + "{\"id\":\"south\",\"personHours\":1,\"after\":[\"north\"]}]");
        assertThat(circle.status()).isEqualTo(422);
        assertThat(circle.contentType()).startsWith("application/problem+json");
        assertThat(circle.json().at("/detail").asString()).contains("north").contains("south");
        TestApi.Answer skill = preview(PEOPLE + ",\"tasks\":[{\"id\":\"t\",\"personHours\":1,\"skill\":\"weld\"}]");
        assertThat(skill.status()).isEqualTo(422);
        assertThat(skill.json().at("/detail").asString()).contains("weld");
    }

    @Test
    void numbersThatMakeNoSenseAreRefused() {
        for (String task : new String[] {
            "\"personHours\":0",
            "\"personHours\":-1",
            "\"personHours\":1e9",
            "\"personHours\":1,\"minPeople\":0",
            "\"personHours\":1,\"minPeople\":3,\"maxPeople\":2",
            "\"personHours\":1,\"waitDays\":-1",
            "\"personHours\":1,\"due\":\"0001-01-01\"",
            "\"personHours\":\"many\"",
            "\"personHours\":1,\"weight\":-1"
        }) {
            TestApi.Answer a = preview(PEOPLE + ",\"tasks\":[{\"id\":\"t\"," + task + "}]");
            assertThat(a.status()).as(task).isIn(400, 422);
            assertThat(a.body()).doesNotContain("Exception");
        }
        assertThat(preview("\"people\":[{\"id\":\"p\",\"hours\":{\"MON\":30}}],\"tasks\":[]")
                        .status())
                .isEqualTo(400);
        assertThat(preview("\"people\":[{\"id\":\"p\",\"hours\":{\"XYZ\":3}}],\"tasks\":[]")
                        .status())
                .isEqualTo(422);
        assertThat(preview("\"people\":[],\"tasks\":[]").status()).isEqualTo(200);
    }
}
