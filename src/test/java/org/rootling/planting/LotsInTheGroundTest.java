package org.rootling.planting;

import static org.assertj.core.api.Assertions.assertThat;

import java.time.LocalDate;
import java.util.List;
import java.util.TreeSet;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lots;
import org.rootling.people.Role;
import org.rootling.platform.Ids;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** From a plant passport to every place its vines stand in now, and the cost of each that lives. */
@AppTest
@Import(TestField.class)
class LotsInTheGroundTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    Vines vines;

    @Autowired
    Lots lots;

    @Test
    void thePassportNamesThePlacesItsVinesStandInNow() {
        TestVineyard vineyard = vineyards.fresh();
        TestField.Field field = fields.make(vineyard, 30);
        LocalDate today = fields.today(vineyard);
        vineyard.run(() -> {
            vines.plant(new NewPlanting(
                    Ids.next(),
                    field.row(1).id(),
                    new TreeSet<>(List.of(3, 4, 5, 7)),
                    field.lot(),
                    today.minusDays(9),
                    vineyard.account(Role.OWNER)));
            vines.plant(new NewPlanting(
                    Ids.next(),
                    field.row(2).id(),
                    new TreeSet<>(List.of(1)),
                    field.lot(),
                    today,
                    vineyard.account(Role.OWNER)));
            vines.observe(
                    field.row(1).id(),
                    new TreeSet<>(List.of(7)),
                    VineState.DEAD,
                    today,
                    null,
                    vineyard.account(Role.OWNER));
        });
        String passport =
                vineyard.inside(() -> lots.byId(field.lot()).orElseThrow().passport());
        var page = vineyard.as(Role.READER).open("/passports?code=" + passport).page();
        assertThat(page.text()).contains("B2 r1 3-5, 7 (4)", "B2 r2 1 (1)", "25 waiting");
        assertThat(page.select("a[href$='/rows/" + field.row(1).id() + "']")).hasSize(1);
        assertThat(vineyard.as(Role.READER)
                        .open("/passports/trace.csv?code=" + passport)
                        .body())
                .contains("\"B2 r1 3-5, 7\",4," + today.minusDays(9));
        // The row's page and the vine's lead back to the lot and its papers.
        var row = vineyard.as(Role.READER).open("/rows/" + field.row(1).id()).page();
        assertThat(row.select("a[href$='/lots/" + field.lotCode() + "']")).isNotEmpty();
        assertThat(vineyard.as(Role.READER)
                        .open("/lots/" + field.lotCode())
                        .page()
                        .text())
                .contains(String.valueOf(passport));
    }

    /** 30 vines at 3.00; 5 planted of which 1 died: 90.00 for 29 that live or wait, 3.10 each. */
    @Test
    void aDeadVineRaisesTheCostOfTheOthers() {
        TestVineyard vineyard = vineyards.fresh();
        TestField.Field field = fields.make(vineyard, 30);
        LocalDate today = fields.today(vineyard);
        var lead = vineyard.as(Role.LEAD);
        String delivery = lead.open("/lots/" + field.lotCode())
                .page()
                .select("a[href*=/deliveries/]")
                .attr("href")
                .replaceFirst(".*/", "");
        String line = lead.open("/deliveries/" + delivery + "/money")
                .page()
                .select("input[name='lines[0].id']")
                .val();
        lead.send(
                "/deliveries/" + delivery + "/money",
                "version",
                "0",
                "currency",
                "EUR",
                "lines[0].id",
                line,
                "lines[0].priceEach",
                "3");
        vineyard.run(() -> {
            vines.plant(new NewPlanting(
                    Ids.next(),
                    field.row(1).id(),
                    new TreeSet<>(List.of(1, 2, 3, 4, 5)),
                    field.lot(),
                    today,
                    vineyard.account(Role.OWNER)));
            vines.observe(
                    field.row(1).id(),
                    new TreeSet<>(List.of(2)),
                    VineState.DEAD,
                    today,
                    null,
                    vineyard.account(Role.OWNER));
        });
        assertThat(lead.open("/lots/" + field.lotCode()).page().text())
                .contains("3.10 EUR for each living vine", "30 vines taken in, of which 29 live or wait");
    }

    @Test
    void aRowsLabelNamesWhatStandsInItAndItsCodeOpensTheRow() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        TestField.Field field = fields.make(vineyard, 30);
        vineyard.run(() -> vines.plant(new NewPlanting(
                Ids.next(),
                field.row(2).id(),
                new TreeSet<>(List.of(1, 2)),
                field.lot(),
                fields.today(vineyard),
                vineyard.account(Role.OWNER))));
        var answer = vineyard.as(Role.READER).open("/labels/labels.pdf?sheet=L24&of=rows&block=b2");
        assertThat(answer.status()).isEqualTo(200);
        try (var pdf = Loader.loadPDF(answer.raw().getResponse().getContentAsByteArray())) {
            String text = new PDFTextStripper().getText(pdf);
            assertThat(text).contains("B2 r1", "B2 r4", "20 places", field.lotCode());
        }
        assertThat(vineyard.as(Role.READER)
                        .open("/labels/labels.pdf?sheet=L24&of=rows&block=none")
                        .status())
                .isEqualTo(422);
    }
}
