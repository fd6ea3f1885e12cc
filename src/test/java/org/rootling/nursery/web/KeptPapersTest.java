package org.rootling.nursery.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.UUID;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StockPapers;
import org.rootling.nursery.TestStock;
import org.rootling.nursery.domain.Spot;
import org.rootling.nursery.domain.StockKeeping;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Photos and PDFs of labels and papers: kept with the delivery or lot, and found again from the passport. */
@AppTest
class KeptPapersTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Stock stock;

    @Autowired
    StockPapers papers;

    @Autowired
    StockKeeping keeping;

    @Autowired
    Lots lots;

    @Autowired
    Vineyards days;

    TestVineyard vineyard;
    LocalDate today;
    Lot lot;
    String delivery;

    @BeforeEach
    void takeIn() {
        vineyard = vineyards.fresh();
        today = vineyard.inside(() -> days.today());
        lot = vineyard.inside(() -> TestStock.lot(stock, 60, today.minusDays(3)));
        delivery = vineyard.as(Role.LEAD)
                .open("/lots/" + lot.code())
                .page()
                .select("a[href*=/deliveries/]")
                .attr("href")
                .replaceFirst(".*/deliveries/([-0-9a-f]+).*", "$1");
    }

    private static byte[] photo() throws IOException {
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        ImageIO.write(new BufferedImage(600, 400, BufferedImage.TYPE_INT_RGB), "png", out);
        return out.toByteArray();
    }

    private static byte[] pdf() {
        return "%PDF-1.4\n%%EOF\n".getBytes(StandardCharsets.ISO_8859_1);
    }

    @Test
    void aLabelIsPhotographedAndFoundFromThePassportAndFromWhatWasSplitOff() throws IOException {
        var helper = vineyard.as(Role.HELPER);
        assertThat(helper.open("/deliveries/" + delivery + "/papers?lot=" + lot.code())
                        .status())
                .isEqualTo(200);
        var kept = helper.upload(
                "/deliveries/" + delivery + "/papers",
                "file",
                "label.png",
                photo(),
                "what",
                "LABEL",
                "lot",
                lot.code());
        assertThat(kept.location()).endsWith("/lots/" + lot.code());
        var page = helper.open("/lots/" + lot.code()).page();
        String picture = page.select(".kept a:has(img)").attr("href").replaceFirst("^/v/[^/]+", "");
        assertThat(picture).startsWith("/pictures/");
        assertThat(page.select(".kept img").attr("alt")).isEqualTo("Photo: Label");
        assertThat(helper.open(picture).raw().getResponse().getContentType()).isEqualTo("image/jpeg");
        assertThat(helper.open("/deliveries/" + delivery).page().select(".kept img"))
                .hasSize(1);
        assertThat(helper.open("/passports?code=T-60")
                        .page()
                        .select("a[href$='" + picture + "']")
                        .text())
                .isEqualTo("Photo: Label");
        assertThat(helper.open("/passports/trace.csv").body()).contains(picture);
        UUID part = vineyard.inside(() -> keeping.split(lot.id(), Spot.UNPLACED, 10, today));
        Lot split = vineyard.inside(() -> lots.byId(part).orElseThrow());
        assertThat(helper.open("/lots/" + split.code()).page().select(".kept img"))
                .hasSize(1);
        // Another lot of another delivery has none of it.
        Lot other = vineyard.inside(() -> TestStock.lot(stock, 5, today));
        assertThat(helper.open("/lots/" + other.code()).page().select(".kept")).isEmpty();
    }

    @Test
    void aLabelIsKeptWithoutAFormToo() throws IOException {
        byte[] photo = photo();
        vineyard.run(() -> papers.keepLabel(lot.id(), photo));
        assertThat(vineyard.as(Role.READER)
                        .open("/lots/" + lot.code())
                        .page()
                        .select(".kept img")
                        .attr("alt"))
                .isEqualTo("Photo: Label");
        assertThatThrownBy(() -> vineyard.run(() -> papers.keepLabel(lot.id(), new byte[] {1, 2, 3})))
                .isInstanceOf(Refused.class);
        assertThatThrownBy(() -> vineyards.fresh().run(() -> papers.keepLabel(lot.id(), photo)))
                .isInstanceOf(NotFound.class);
    }

    @Test
    void aDeliveryNoteBelongsToAllLotsOfTheDeliveryUntilItIsTakenBack() {
        var lead = vineyard.as(Role.LEAD);
        var kept =
                lead.upload("/deliveries/" + delivery + "/papers", "file", "note.pdf", pdf(), "what", "DELIVERY_NOTE");
        assertThat(kept.location()).endsWith("/deliveries/" + delivery);
        var page = lead.open("/lots/" + lot.code()).page();
        assertThat(page.select(".kept a").text()).contains("PDF: Delivery note");
        String withdraw = page.select(".kept form").attr("action").replaceFirst("^/v/[^/]+", "");
        assertThat(vineyard.as(Role.HELPER).send(withdraw).status()).isEqualTo(403);
        assertThat(lead.send(withdraw).location()).endsWith("/deliveries/" + delivery);
        assertThat(lead.open("/lots/" + lot.code()).page().select(".kept")).isEmpty();
        assertThat(lead.send(withdraw).status()).isEqualTo(404);
    }

    @Test
    void whatIsNoPictureIsRefusedBesideTheFile() throws IOException {
        var helper = vineyard.as(Role.HELPER);
        String path = "/deliveries/" + delivery + "/papers";
        for (byte[] bytes : new byte[][] {
            new byte[0], "hello".getBytes(StandardCharsets.UTF_8), "<svg/>".getBytes(StandardCharsets.UTF_8)
        }) {
            var refused = helper.upload(path, "file", "label.png", bytes, "what", "LABEL", "lot", lot.code());
            assertThat(refused.status()).isEqualTo(200);
            assertThat(refused.page().select("#file-error").text()).isNotBlank();
        }
        assertThat(helper.upload(path, "file", "x.png", photo(), "what", "NONSENSE")
                        .page()
                        .select("#what-error"))
                .isNotEmpty();
        assertThat(vineyard.as(Role.READER)
                        .upload(path, "file", "x.png", photo(), "what", "LABEL")
                        .status())
                .isEqualTo(403);
        Lot other = vineyard.inside(() -> TestStock.lot(stock, 5, today));
        assertThat(helper.upload(path, "file", "x.png", photo(), "what", "LABEL", "lot", other.code())
                        .status())
                .isEqualTo(404);
        TestVineyard stranger = vineyards.fresh();
        assertThat(stranger.as(Role.LEAD)
                        .upload(path, "file", "x.png", photo(), "what", "LABEL")
                        .status())
                .isEqualTo(404);
        assertThat(helper.open("/deliveries/" + delivery).page().select(".kept"))
                .isEmpty();
    }
}
