package org.rootling.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Sheets that take longer than a second are made in the background; small ones come at once. */
@AppTest
@Import(ReviewField.class)
class LargeFilesTest {

    private static final int ROWS = 60;

    /** Letters that the PDF's own fonts have not. */
    private static final String VARIETY = "Hárslevelű Μαύρο";

    @Autowired
    TestVineyards vineyards;

    @Autowired
    ReviewField field;

    @Autowired
    JdbcClient jdbc;

    private TestBrowser reader;

    @BeforeEach
    void aFieldOfManyRows() {
        TestVineyard vineyard = vineyards.fresh();
        field.block(vineyard, "B1", ROWS, 4);
        vineyard.run(
                () -> jdbc.sql("insert into own_variety (id, name, colour) values (gen_random_uuid(), :name, 'WHITE')")
                        .param("name", VARIETY)
                        .update());
        field.lot(vineyard, VARIETY, "SO4", 50);
        reader = vineyard.as(Role.READER);
    }

    @Test
    void labelsOfManyRowsAreMadeInTheBackground() throws IOException {
        Answer asked = reader.open("/labels/labels.pdf?sheet=L24&of=rows");
        assertThat(asked.status()).isEqualTo(422);
        assertThat(asked.page().text()).contains("More than 48 labels");
        try (PDDocument pdf =
                Loader.loadPDF(made(reader.send("/labels", "sheet", "L24", "of", "rows", "copies", "1")))) {
            assertThat(pdf.getNumberOfPages()).isEqualTo((ROWS + 23) / 24);
        }
        assertThat(reader.send("/labels", "sheet", "L24", "of", "rows", "copies", "50")
                        .status())
                .as("3,000 labels")
                .isEqualTo(422);
    }

    @Test
    void fewLabelsComeAtOnceInTheLettersOfTheirVarieties() throws IOException {
        Answer few = reader.send("/labels", "sheet", "L8", "of", "lots", "copies", "2", "lot", "", "block", "a&b {c}");
        assertThat(few.location())
                .contains("/labels/labels.pdf?sheet=L8&of=lots&copies=2")
                .doesNotContain("a&b", "{");
        Answer file = reader.follow(few);
        assertThat(file.status()).isEqualTo(200);
        assertThat(file.raw().getResponse().getContentType()).isEqualTo("application/pdf");
        try (PDDocument pdf = Loader.loadPDF(file.raw().getResponse().getContentAsByteArray())) {
            assertThat(new PDFTextStripper().getText(pdf)).contains("Hárslevelű", "Μαύρο");
        }
    }

    @Test
    void theStakeOutSheetOfManyRowsIsMadeInTheBackground() {
        assertThat(reader.open("/blocks/B1/stake-out.pdf").status()).isEqualTo(422);
        Answer page = reader.open("/blocks/B1/stake-out");
        assertThat(page.page().select("a[href$=stake-out.pdf]")).isEmpty();
        assertThat(page.page().select("form[method=post][action$=/blocks/B1/stake-out.pdf] button"))
                .hasSize(1);
        byte[] pdf = made(reader.send("/blocks/B1/stake-out.pdf"));
        assertThat(new String(pdf, 0, 5, StandardCharsets.ISO_8859_1)).isEqualTo("%PDF-");
    }

    private byte[] made(Answer begun) {
        assertThat(begun.location()).contains("/jobs/");
        Answer done = reader.follow(begun);
        assertThat(done.page().select("[data-state=DONE]")).hasSize(1);
        String file = done.page().select("a[href$=/file]").attr("href").replaceFirst("^/v/[^/]+", "");
        return reader.open(file).raw().getResponse().getContentAsByteArray();
    }
}
