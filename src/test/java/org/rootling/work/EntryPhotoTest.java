package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.multipart;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.net.URI;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.domain.CrewService;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mock.web.MockMultipartFile;
import org.springframework.test.web.servlet.MvcResult;

/** Photos in the field log, and work written down for a helper without an account. */
@AppTest
@Import({WorkField.class, RecordingEffect.class})
class EntryPhotoTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    FieldLog log;

    @Autowired
    CrewService crew;

    @Autowired
    JdbcClient jdbc;

    private TestVineyard vineyard;
    private UUID task;
    private LocalDate today;

    @BeforeEach
    void aTask() {
        vineyard = vineyards.fresh();
        WorkField.Field field = fields.make(vineyard, 1, 50);
        today = fields.today(vineyard);
        task = vineyard.inside(() -> tasks.create(
                new NewTask("WEED", field.row(1), null, null, null, List.of(vineyard.account(Role.HELPER)), null)));
    }

    private static byte[] picture() throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ImageIO.write(new BufferedImage(60, 40, BufferedImage.TYPE_INT_RGB), "jpg", out);
        return out.toByteArray();
    }

    private String[] form(UUID entry, String places) {
        return new String[] {"entry", entry.toString(), "places", places, "on", today.toString()};
    }

    private int count(String table) {
        return vineyard.inside(() ->
                jdbc.sql("select count(*) from " + table).query(Integer.class).single());
    }

    @Test
    void aLogCarriesAPhotoThatItsPagesShow() throws IOException {
        TestBrowser helper = vineyard.as(Role.HELPER);
        assertThat(helper.upload(
                                "/my-day/" + task + "/log",
                                "photo",
                                "row.jpg",
                                picture(),
                                form(UUID.randomUUID(), "1-3"))
                        .status())
                .isEqualTo(302);
        String src = helper.open("/my-day/" + task).page().select("img.photo").attr("src");
        assertThat(src).endsWith("/small");
        assertThat(vineyard.as(Role.READER).open("/work/tasks/" + task).page().select("img.photo"))
                .hasSize(1);
    }

    @Test
    void whatIsNoPhotoIsRefusedAtItsFieldAndLeavesNoLog() {
        TestBrowser.Answer answer = vineyard.as(Role.HELPER)
                .upload(
                        "/my-day/" + task + "/log",
                        "photo",
                        "row.jpg",
                        "not a picture".getBytes(java.nio.charset.StandardCharsets.UTF_8),
                        form(UUID.randomUUID(), "1-3"));
        assertThat(answer.page().select(".error").text()).contains("no picture");
        assertThat(count("task_log")).isZero();
        assertThat(count("picture")).isZero();
    }

    @Test
    void aLogThatIsRefusedLeavesNoPhoto() throws IOException {
        TestBrowser.Answer answer = vineyard.as(Role.HELPER)
                .upload("/my-day/" + task + "/log", "photo", "row.jpg", picture(), form(UUID.randomUUID(), "99"));
        assertThat(answer.page().select(".error").text()).isNotEmpty();
        assertThat(count("picture")).isZero();
    }

    @Test
    void aPhotoOfEightyMegabytesIsRefusedWithItsSize() throws Exception {
        UUID entry = UUID.randomUUID();
        vineyard.as(Role.HELPER).sendAndFollow("/my-day/" + task + "/log", form(entry, "1"));
        MvcResult result = send(entry, UUID.randomUUID(), new byte[80 * 1024 * 1024]);
        assertThat(result.getResponse().getStatus()).isEqualTo(422);
        assertThat(result.getResponse().getContentAsString()).contains("MB").contains("12 MB");
        assertThat(count("picture")).isZero();
        assertThat(count("task_log")).isEqualTo(1);
    }

    private MvcResult send(UUID entry, UUID photo, byte[] content) throws Exception {
        return vineyard.mvc()
                .perform(multipart(URI.create("/api/v1/field-logs/" + entry + "/photos/" + photo))
                        .file(new MockMultipartFile("photo", "p.jpg", "image/jpeg", content))
                        .header("Authorization", "Bearer " + vineyard.token(Role.HELPER)))
                .andReturn();
    }

    @Test
    void aPhotoSentTwiceIsTakenOnceAndOneOfAnUnknownEntryNever() throws Exception {
        UUID entry = UUID.randomUUID();
        vineyard.as(Role.HELPER).sendAndFollow("/my-day/" + task + "/log", form(entry, "1"));
        UUID photo = UUID.randomUUID();
        assertThat(send(entry, photo, picture()).getResponse().getContentAsString())
                .contains("\"taken\"");
        assertThat(send(entry, photo, picture()).getResponse().getContentAsString())
                .contains("already taken");
        assertThat(count("picture")).isEqualTo(1);
        assertThat(send(UUID.randomUUID(), UUID.randomUUID(), picture())
                        .getResponse()
                        .getStatus())
                .isEqualTo(404);
    }

    @Test
    void aLeadWritesDownTheWorkOfAHelperWithoutAnAccountAndItsCostIsTheirs() {
        vineyard.as(Role.LEAD)
                .sendAndFollow(
                        "/work/people/new",
                        "name",
                        "Old Tom",
                        "sat",
                        "6",
                        "wage",
                        "10",
                        "currency",
                        "GBP",
                        "version",
                        "0");
        UUID tom = vineyard.inside(() -> crew.people()).get(0).id();
        TestBrowser lead = vineyard.as(Role.LEAD);
        assertThat(lead.open("/my-day/" + task).page().select("#person option").eachText())
                .contains("Old Tom");
        String[] form = {
            "entry",
            UUID.randomUUID().toString(),
            "places",
            "1-4",
            "minutes",
            "90",
            "on",
            today.toString(),
            "person",
            tom.toString()
        };
        lead.sendAndFollow("/my-day/" + task + "/log", form);
        assertThat(lead.open("/my-day/" + task).page().text()).contains("Done by Old Tom");
        assertThat(lead.open("/work/hours?by=PERSON").page().select("td").eachText())
                .contains("Old Tom", "15.00 GBP");
        form[1] = UUID.randomUUID().toString();
        form[3] = "5";
        assertThat(vineyard.as(Role.HELPER)
                        .send("/my-day/" + task + "/log", form)
                        .page()
                        .select(".error, .alert.danger")
                        .text())
                .contains("Only a lead");
        assertThat(vineyard.as(Role.HELPER).open("/my-day/" + task).page().select("#person"))
                .isEmpty();
    }
}
