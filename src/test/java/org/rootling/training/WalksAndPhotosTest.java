package org.rootling.training;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import javax.imageio.ImageIO;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.TestField;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.transaction.support.TransactionTemplate;
import tools.jackson.databind.JsonNode;
import tools.jackson.databind.json.JsonMapper;

/** Walks that come from a phone's store, and photos of vines. */
@AppTest
@Import(TestField.class)
class WalksAndPhotosTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    Vines vines;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    TransactionTemplate transaction;

    private TestVineyard vineyard;
    private TestBrowser helper;
    private UUID row;
    private LocalDate today = LocalDate.EPOCH;

    @BeforeEach
    void aPlantedRow() {
        vineyard = vineyards.fresh();
        helper = vineyard.as(Role.HELPER);
        TestField.Field field = fields.make(vineyard, 60);
        row = field.row(1).id();
        today = fields.today(vineyard);
        vineyard.run(() -> vines.plant(new NewPlanting(
                Ids.next(),
                row,
                IntStream.rangeClosed(1, 10).boxed().collect(Collectors.toCollection(TreeSet::new)),
                field.lot(),
                today.minusDays(30),
                vineyard.account(Role.HELPER))));
    }

    private String walk(UUID id, String kind, String fieldsJson) {
        return "{\"id\":\"%s\",\"kind\":\"%s\",\"row\":\"%s\",\"fields\":%s}".formatted(id, kind, row, fieldsJson);
    }

    private JsonNode send(String... walks) {
        TestBrowser.Answer answer = helper.sendJson("/walks", "{\"walks\":[" + String.join(",", walks) + "]}");
        assertThat(answer.status()).as(answer.body()).isEqualTo(200);
        return JsonMapper.builder().build().readTree(answer.body()).get("walks");
    }

    private VineState state(int place) {
        return vineyard.inside(() -> vines.at(row, place)).orElseThrow().state();
    }

    private int observations() {
        Integer count = vineyard.inside(() -> transaction.execute(s -> jdbc.sql("select count(*) from vine_observation")
                .query(Integer.class)
                .single()));
        return count == null ? -1 : count;
    }

    @Test
    void a_walk_sent_twice_is_taken_once() {
        UUID id = UUID.randomUUID();
        String walk = walk(id, "walk", "{\"rest\":\"GROWING\",\"dead\":\"3\",\"on\":\"" + today + "\"}");

        assertThat(send(walk).get(0).get("result").asString()).isEqualTo("taken");
        assertThat(send(walk, walk).get(1).get("result").asString()).isEqualTo("taken");

        assertThat(state(3)).isEqualTo(VineState.DEAD);
        assertThat(state(4)).isEqualTo(VineState.GROWING);
        assertThat(observations()).isEqualTo(2);
    }

    @Test
    void one_that_cannot_be_taken_says_why_and_stops_no_other() {
        JsonNode answers = send(
                walk(UUID.randomUUID(), "walk", "{\"weak\":\"15\",\"on\":\"" + today + "\"}"),
                walk(UUID.randomUUID(), "walk", "{\"weak\":\"2\",\"on\":\"" + today.plusDays(1) + "\"}"),
                walk(UUID.randomUUID(), "walk", "{\"weak\":\"2\",\"on\":\"soon\"}"),
                walk(UUID.randomUUID(), "flight", "{\"on\":\"" + today + "\"}"),
                walk(UUID.randomUUID(), "shoots", "{\"shoots[5]\":\"2000\",\"on\":\"" + today + "\"}"),
                walk(UUID.randomUUID(), "shoots", "{\"shoots[5]\":\"2000%\",\"on\":\"" + today + "\"}"),
                walk(UUID.randomUUID(), "walk", "{\"weak\":\"" + "9".repeat(500) + "\",\"on\":\"" + today + "\"}"),
                walk(
                        UUID.randomUUID(),
                        "shoots",
                        "{\"shoots[5]\":\"2\",\"height[5]\":\"30\",\"chosen[5]\":\"true\",\"on\":\"" + today + "\"}"));

        for (int i = 0; i < 7; i++) {
            assertThat(answers.get(i).get("result").asString()).as("walk " + i).isEqualTo("refused");
            assertThat(answers.get(i).get("reason").asString())
                    .as("walk " + i)
                    .contains(" ")
                    .doesNotContain("training.");
        }
        assertThat(answers.get(7).get("result").asString()).isEqualTo("taken");
        assertThat(observations()).isZero();
    }

    @Test
    void what_is_no_batch_is_a_4xx_and_a_reader_or_stranger_sends_nothing() {
        assertThat(helper.sendJson("/walks", "{\"walks\":[null]}").status()).isBetween(400, 499);
        assertThat(helper.sendJson("/walks", "[1,2").status()).isBetween(400, 499);
        assertThat(helper.sendJson("/walks", "{}").status()).isEqualTo(200);
        String walk =
                "{\"walks\":[" + walk(UUID.randomUUID(), "walk", "{\"dead\":\"1\",\"on\":\"" + today + "\"}") + "]}";
        assertThat(vineyard.as(Role.READER).sendJson("/walks", walk).status()).isEqualTo(403);
        TestBrowser.Answer stranger = vineyards.fresh().as(Role.OWNER).sendJson("/walks", walk);
        assertThat(stranger.body()).contains("refused");
        assertThat(state(1)).isEqualTo(VineState.PLANTED);
    }

    @Test
    void a_photo_of_a_vine_stands_in_its_story() throws IOException {
        UUID vine = vineyard.inside(() -> vines.at(row, 2)).orElseThrow().id();

        TestBrowser.Answer answer = helper.upload(
                "/vines/" + vine + "/looks",
                "photo",
                "vine.jpg",
                jpeg(),
                "state",
                "WEAK",
                "on",
                today.toString(),
                "note",
                "leaves curl");
        assertThat(answer.status())
                .as(answer.page().select(".error, .alert").text())
                .isBetween(300, 399);

        Element photo = helper.open("/vines/" + vine)
                .page()
                .select(".story a.photo img")
                .first();
        assertThat(photo).isNotNull();
        assertThat(photo.attr("alt")).startsWith("Photo of");
        String small = photo.attr("src").substring(photo.attr("src").indexOf("/pictures/"));
        assertThat(helper.open(small).raw().getResponse().getContentType()).startsWith("image/jpeg");
        assertThat(vineyards.fresh().as(Role.OWNER).open(small).status()).isEqualTo(404);
        assertThat(state(2)).isEqualTo(VineState.WEAK);
        assertThat(helper.open("/vines/" + vine).page().select(".story").text())
                .contains("weak – leaves curl")
                .contains("photo");
    }

    @Test
    void a_photo_alone_is_a_look_and_what_is_no_photo_is_refused_at_its_field() throws IOException {
        UUID vine = vineyard.inside(() -> vines.at(row, 2)).orElseThrow().id();
        String looks = "/vines/" + vine + "/looks";
        assertThat(helper.upload(looks, "photo", "v.jpg", jpeg(), "on", today.toString())
                        .status())
                .isBetween(300, 399);
        int before = observations();
        for (String content : new String[] {"no photo at all", "%PDF-1.7 a paper"}) {
            TestBrowser.Answer answer = helper.upload(
                    looks,
                    "photo",
                    "v.jpg",
                    content.getBytes(StandardCharsets.UTF_8),
                    "state",
                    "DEAD",
                    "on",
                    today.toString(),
                    "once",
                    UUID.randomUUID().toString());
            assertThat(answer.page().select("form .alert.danger").text())
                    .as(content)
                    .isNotBlank();
        }
        assertThat(observations()).isEqualTo(before);
        assertThat(state(2)).isEqualTo(VineState.PLANTED);
        assertThat(helper.send(looks, "shoots", "2000%", "on", today.toString())
                        .page()
                        .select(".error")
                        .text())
                .isNotBlank();
    }

    private static byte[] jpeg() throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ImageIO.write(new BufferedImage(400, 300, BufferedImage.TYPE_INT_RGB), "jpg", out);
        return out.toByteArray();
    }
}
