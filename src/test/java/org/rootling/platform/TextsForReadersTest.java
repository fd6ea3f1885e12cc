package org.rootling.platform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.test.web.servlet.MockMvc;

/** What we say ourselves, in help, lists and notes, is in the reader's units and language. */
@AppTest
class TextsForReadersTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    MockMvc mvc;

    @Autowired
    UnitText units;

    @AfterEach
    void asItWas() {
        UnitChoice.clear();
        LocaleContextHolder.resetLocaleContext();
    }

    @Test
    void helpAndChecklistSayInchesToWhoReadsInches() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser lead = vineyard.as(Role.LEAD);
        for (String path : new String[] {"/help/year-one", "/checklist"}) {
            assertThat(lead.open(path).page().text())
                    .as(path)
                    .containsIgnoringCase("about 10 cm")
                    .doesNotContain("about 4 in", "About 4 in");
        }
        choose(vineyard, Role.LEAD, "en", "us");
        for (String path : new String[] {"/help/year-one", "/checklist"}) {
            assertThat(lead.open(path).page().text())
                    .as(path)
                    .containsIgnoringCase("about 4 in")
                    .doesNotContain(" cm", " L ", "|4");
        }
    }

    @Test
    void shippedListsExplainThemselvesInTheReadersLanguage() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        choose(vineyard, Role.OWNER, "de", "metric");
        assertThat(owner.open("/store-limits").page().text())
                .contains("gängige Praxis, ohne Quelle", "FAO-56")
                .doesNotContain("common practice");
        assertThat(owner.open("/vine-lists").page().text()).contains("Liebt tiefen, feuchten");
        choose(vineyard, Role.OWNER, "fr", "metric");
        assertThat(owner.open("/checklist").page().text())
                .contains("usage courant, sans source")
                .doesNotContain("common practice");
    }

    @Test
    void everyPageLeadsToItsPartOfTheHelp() {
        TestBrowser reader = vineyards.fresh().as(Role.READER);
        String[][] pages = {
            {"/blocks", "ground#corners"},
            {"/lots", "nursery#clock"},
            {"/weather", "weather#sums"},
            {"/more", "glossary"}
        };
        for (String[] page : pages) {
            assertThat(reader.open(page[0]).page().select("footer a[href$='/help/" + page[1] + "']"))
                    .as(page[0])
                    .hasSize(1);
        }
        for (String help : new String[] {"weather", "people", "tables"}) {
            assertThat(reader.open("/help/" + help).status()).as(help).isEqualTo(200);
        }
    }

    /** NIST Special Publication 811 (2008), appendix B: 1 ft = 0.3048 m. */
    @Test
    void aNoteThatIsKeptIsReadInTheUnitsOfEach() {
        UnitChoice.set(UnitChoice.METRIC);
        String kept = "within " + units.bothLengths(3.048, 1);
        assertThat(units.own(kept)).isEqualTo("within 3.0 m");
        UnitChoice.set(UnitChoice.US);
        assertThat(units.own(kept)).isEqualTo("within 10.0 ft");
        assertThat(units.own("no number [at all]")).isEqualTo("no number [at all]");
    }

    private void choose(TestVineyard vineyard, Role role, String locale, String units) throws Exception {
        mvc.perform(post("/account")
                .param("name", "Some One")
                .param("locale", locale)
                .param("units", units)
                .with(csrf())
                .with(TestRequests.as(vineyard, role)));
    }
}
