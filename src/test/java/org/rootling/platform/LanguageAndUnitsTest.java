package org.rootling.platform;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.fields;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.Locale;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestRequests;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.test.web.servlet.MockMvc;

/** Each person reads and types in their own language and units; what is stored is the same for all. */
@AppTest
class LanguageAndUnitsTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    MockMvc mvc;

    @AfterEach
    void metricAgain() {
        UnitChoice.clear();
    }

    @Test
    void whoChoosesNoLanguageGetsTheBrowsersWhereWeSpeakItAndEnglishElse() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        assertThat(home(vineyard, Locale.forLanguageTag("de-AT"))
                        .selectFirst("html")
                        .attr("lang"))
                .isEqualTo("de");
        assertThat(home(vineyard, Locale.CANADA_FRENCH).selectFirst("html").attr("lang"))
                .isEqualTo("fr");
        assertThat(home(vineyard, Locale.forLanguageTag("fi"))
                        .selectFirst("html")
                        .attr("lang"))
                .isEqualTo("en");
    }

    @Test
    void aChosenLanguageGoesBeforeTheBrowsersInsideAndOutsideOfTheVineyard() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        choose(vineyard, Role.LEAD, "de", "metric");
        Document home = Jsoup.parse(mvc.perform(get("/v/" + vineyard.slug() + "/")
                        .locale(Locale.FRANCE)
                        .with(TestRequests.as(vineyard, Role.LEAD)))
                .andReturn()
                .getResponse()
                .getContentAsString());
        assertThat(home.selectFirst("html").attr("lang")).isEqualTo("de");
        assertThat(home.selectFirst("header time").text())
                .containsPattern("[A-Z][a-z]\\.? \\d{1,2}\\. \\p{L}+\\.? \\d{4}");
        Document account = Jsoup.parse(
                mvc.perform(get("/account").locale(Locale.FRANCE).with(TestRequests.as(vineyard, Role.LEAD)))
                        .andReturn()
                        .getResponse()
                        .getContentAsString());
        assertThat(account.selectFirst("html").attr("lang")).isEqualTo("de");
    }

    @Test
    void datesAreWrittenAsTheLanguageWritesThem() {
        LocalDate day = LocalDate.of(2027, 4, 6);
        assertThat(DateText.format(day, "EEEE d MMMM yyyy", Locale.ENGLISH)).isEqualTo("Tuesday 6 April 2027");
        assertThat(DateText.format(day, "EEEE d MMMM yyyy", Locale.GERMAN)).isEqualTo("Dienstag, 6. April 2027");
        assertThat(DateText.format(day, "EEEE d MMMM yyyy", Locale.FRENCH)).isEqualTo("mardi 6 avril 2027");
        assertThat(DateText.format(LocalDate.of(2027, 5, 1), "d MMMM", Locale.FRENCH))
                .isEqualTo("1er mai");
        assertThat(DateText.format(YearMonth.of(2027, 5), "MMMM yyyy", Locale.FRENCH))
                .isEqualTo("mai 2027");
    }

    @Test
    void aDecimalCommaIsReadAndShownInGermanAndAPointInEnglish() {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        assertThat(settings(owner, "48,25", "120,5").status()).isEqualTo(302);
        assertThat(owner.open("/settings").page().getElementById("latitude").val())
                .isEqualTo("48.25");
        choose(vineyard, Role.OWNER, "de", "metric");
        Document page = owner.open("/settings").page();
        assertThat(page.getElementById("latitude").val()).isEqualTo("48,25");
        assertThat(page.getElementById("altitudeM").val()).isEqualTo("120,5");
        assertThat(settings(owner, "1.048,25", "120").page().select(".field.wrong #latitude"))
                .hasSize(1);
    }

    @Test
    void lengthsAreTypedInFeetByWhoReadsFeetAndStoredInMetres() {
        TestVineyard vineyard = vineyards.fresh();
        choose(vineyard, Role.OWNER, "en", "us");
        TestBrowser owner = vineyard.as(Role.OWNER);
        assertThat(settings(owner, "48", "1000").status()).isEqualTo(302);
        Document page = owner.open("/settings").page();
        assertThat(page.getElementById("altitudeM").val()).isEqualTo("1000");
        assertThat(page.getElementById("altitudeM").parent().text()).isEqualTo("ft");
        choose(vineyard, Role.OWNER, "en", "metric");
        assertThat(owner.open("/settings").page().getElementById("altitudeM").val())
                .isEqualTo("304.8");
        choose(vineyard, Role.OWNER, "en", "us");
        Document wrong = settings(owner, "48", "99999").page();
        assertThat(wrong.select(".field.wrong .error").text()).contains("5000").contains("limits are in m");
    }

    /** NIST Special Publication 811 (2008), appendix B: 1 ft = 0.3048 m, 1 in = 2.54 cm, 1 US gal = 3.785412 L. */
    @Test
    void whatIsShownInCustomaryUnitsComesBackAsItWas() {
        UnitChoice.set(UnitChoice.US);
        assertThat(Measure.METRE.kept(new BigDecimal("10"))).isEqualByComparingTo("3.048");
        assertThat(Measure.CENTIMETRE.kept(new BigDecimal("10"))).isEqualByComparingTo("25.4");
        assertThat(Measure.LITRE.kept(new BigDecimal("1"))).isEqualByComparingTo("3.785");
        assertThat(Measure.CELSIUS.kept(new BigDecimal("212"))).isEqualByComparingTo("100");
        for (Measure measure : Measure.values()) {
            for (String metric : new String[] {"0", "0.6", "1.2", "2.2", "9.14", "28", "123.45", "-4.5"}) {
                assertThat(measure.kept(measure.shown(new BigDecimal(metric))))
                        .as(measure + " " + metric)
                        .isEqualByComparingTo(metric);
            }
        }
    }

    @Test
    void groupedThousandsAreRefusedRatherThanGuessedAt() {
        assertThat(NumberText.read("1,5")).isEqualByComparingTo("1.5");
        assertThat(NumberText.read(" \u22124.5 ")).isEqualByComparingTo("-4.5");
        for (String grouped : new String[] {"1.234,5", "1,234.5", "1 234", "1'234", "1e999999"}) {
            assertThatThrownBy(() -> NumberText.read(grouped)).as(grouped).isInstanceOf(IllegalArgumentException.class);
        }
    }

    /** The page shows the reader's unit beside a field of such a name, so the form must read it in that unit. */
    @Test
    void everyFormFieldNamedByItsUnitIsReadInTheReadersUnit() {
        fields().that(new DescribedPredicate<JavaField>("are of forms and named by a unit") {
                    @Override
                    public boolean test(JavaField field) {
                        return field.getOwner().getSimpleName().endsWith("Form")
                                && (field.getRawType().isEquivalentTo(Double.class)
                                        || field.getRawType().isEquivalentTo(BigDecimal.class))
                                && Measure.ofField(field.getName()) != null;
                    }
                })
                .should()
                .beAnnotatedWith(Measured.class)
                .check(new ClassFileImporter()
                        .withImportOption(ImportOption.Predefined.DO_NOT_INCLUDE_TESTS)
                        .importPackages("org.rootling"));
    }

    @Test
    void anAccountFormThatCannotBeReadIsShownAgain() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Document again = Jsoup.parse(mvc.perform(post("/account")
                        .param("name", "")
                        .param("locale", "de")
                        .param("units", "us")
                        .with(csrf())
                        .with(TestRequests.as(vineyard, Role.LEAD)))
                .andReturn()
                .getResponse()
                .getContentAsString());
        assertThat(again.select("#locale option[selected]").val()).isEqualTo("de");
        assertThat(again.select(".field.wrong #name")).hasSize(1);
    }

    private Document home(TestVineyard vineyard, Locale browser) throws Exception {
        return Jsoup.parse(mvc.perform(
                        get("/v/" + vineyard.slug() + "/").locale(browser).with(TestRequests.as(vineyard, Role.READER)))
                .andReturn()
                .getResponse()
                .getContentAsString());
    }

    private void choose(TestVineyard vineyard, Role role, String locale, String units) {
        try {
            int status = mvc.perform(post("/account")
                            .param("name", "Some One")
                            .param("locale", locale)
                            .param("units", units)
                            .param("_contrast", "on")
                            .with(csrf())
                            .with(TestRequests.as(vineyard, role)))
                    .andReturn()
                    .getResponse()
                    .getStatus();
            assertThat(status).isEqualTo(302);
        } catch (Exception failure) {
            throw new AssertionError(failure);
        }
    }

    private static TestBrowser.Answer settings(TestBrowser owner, String latitude, String altitude) {
        String version =
                owner.open("/settings").page().selectFirst("[name=version]").val();
        return owner.send(
                "/settings",
                "name",
                "Bank",
                "zone",
                "Europe/London",
                "latitude",
                latitude,
                "longitude",
                "0",
                "altitudeM",
                altitude,
                "version",
                version);
    }
}
