package org.rootling.review;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.util.Collections;
import java.util.List;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;
import org.rootling.nursery.Lot;
import org.rootling.people.Role;
import org.rootling.platform.Listing;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.Crew;
import org.rootling.work.NewTask;
import org.rootling.work.Tasks;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** The search box finds what people call by a name, however they type it, and nothing of anybody else. */
@AppTest
@Import(ReviewField.class)
class FindTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    ReviewField field;

    @Autowired
    Crew crew;

    @Autowired
    Tasks tasks;

    private TestVineyard vineyard;
    private ReviewField.Planted planted;

    @BeforeEach
    void aPlantedVineyard() {
        vineyard = vineyards.fresh();
        planted = field.planted(vineyard);
        vineyard.run(() -> crew.addOnPaper("Zoë Grünwald", Collections.nCopies(7, BigDecimal.ONE)));
        field.lot(vineyard, "Grüner Veltliner", "SO4", 25);
    }

    @ParameterizedTest
    @CsvSource({
        "bacchus, Lot",
        "BACCHUS SO4, Lot",
        "so4 bacchus, Lot",
        "gruner veltliner, Lot",
        "GRÜNER, Lot",
        "zoe, Person",
        "Zoë grunwald, Person",
        "hana, Person",
        "B1, Block",
        "by the LANE, Block",
        "b1 R4, Row",
        "b1 r4 5, Place",
        "b1 4 5, Place"
    })
    void lotsBlocksRowsPlacesAndPeopleAreFoundHoweverTheyAreTyped(String asked, String kind) {
        assertThat(find(asked).select("main table tbody td:first-child").eachText())
                .contains(kind);
    }

    @Test
    void openTasksAreFoundByWorkAndRow() {
        vineyard.run(() -> tasks.create(new NewTask("WEED", planted.rows().get(1), null, null, null, List.of(), null)));
        Document page = find("WEED b1 r2");
        assertThat(page.select("main table tbody td:first-child").eachText()).contains("Task");
        assertThat(page.select("main table a[href*=/work/tasks/]")).hasSize(1);
    }

    @ParameterizedTest
    @ValueSource(
            strings = {
                "%",
                "_",
                "\\",
                "%%",
                "' or 1=1 --",
                "=1+1",
                "+cmd",
                "@SUM(A1)",
                "-2+3",
                "\t",
                "{[",
                "(?i)",
                "\u0000x",
                ".*"
            })
    void signsOfOtherLanguagesAreOnlySigns(String asked) {
        TestBrowser.Answer answer = vineyard.as(Role.READER).open("/find?q=" + encoded(asked));
        assertThat(answer.status()).isEqualTo(200);
        assertThat(answer.page().select("main table tbody tr")).isEmpty();
    }

    @Test
    void aQuestionAsLongAsABookIsCutAndEmptyOnesFindNothing() {
        TestBrowser reader = vineyard.as(Role.READER);
        assertThat(reader.open("/find?q=" + "bacchus+".repeat(2000)).status()).isEqualTo(200);
        assertThat(find("").select("main table")).isEmpty();
        assertThat(find("   ").select("main table")).isEmpty();
        assertThat(find("B1 r99999 999999").select("main table")).isEmpty();
    }

    @Test
    void tokensAreNotFound() {
        vineyard.as(Role.OWNER).sendAndFollow("/tokens", "name", "Weatherpost", "role", "READER");
        assertThat(vineyard.as(Role.OWNER).open("/find?q=weatherpost").page().select("main table"))
                .isEmpty();
    }

    @Test
    void allThatIsFoundIsCountedAndPagedAndCanBeTakenAlong() {
        vineyard.run(() -> {
            for (int i = 0; i < Listing.PAGE + 3; i++) {
                crew.addOnPaper("Picker %03d".formatted(i), Collections.nCopies(7, BigDecimal.ONE));
            }
        });
        Document first = find("picker");
        assertThat(first.select("main table caption").text()).contains("53");
        assertThat(first.select("main table tbody tr")).hasSize(Listing.PAGE);
        Document second =
                vineyard.as(Role.READER).open("/find?q=picker&found-page=2").page();
        assertThat(second.select("main table tbody tr")).hasSize(3);
        assertThat(second.select("input[type=hidden][name=q]").val()).isEqualTo("picker");
        String csv =
                vineyard.as(Role.READER).open("/find?q=picker&list-csv=found").body();
        assertThat(csv.lines()).hasSize(1 + Listing.PAGE + 3);
    }

    @Test
    void nobodyFindsWhatIsAnotherVineyards() {
        TestVineyard other = vineyards.fresh();
        for (String asked : List.of(
                "bacchus",
                "veltliner",
                "zoe",
                "B1",
                "B1 r4",
                "B1 r4 5",
                planted.good().code())) {
            Document page =
                    other.as(Role.OWNER).open("/find?q=" + encoded(asked)).page();
            assertThat(page.select("main table")).as(asked).isEmpty();
        }
        Lot mine = planted.good();
        assertThat(find(mine.code()).select("main table a[href$=/lots/" + mine.code() + "]"))
                .hasSize(1);
    }

    private Document find(String asked) {
        TestBrowser.Answer answer = vineyard.as(Role.READER).open("/find?q=" + encoded(asked));
        assertThat(answer.status()).isEqualTo(200);
        return answer.page();
    }

    private static String encoded(String asked) {
        return URLEncoder.encode(asked, StandardCharsets.UTF_8).replace("+", "%20");
    }
}
