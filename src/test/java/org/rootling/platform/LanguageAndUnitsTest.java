package org.rootling.platform;

import static com.tngtech.archunit.lang.syntax.ArchRuleDefinition.fields;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.springframework.security.test.web.servlet.request.SecurityMockMvcRequestPostProcessors.csrf;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.post;

import com.tngtech.archunit.base.DescribedPredicate;
import com.tngtech.archunit.core.domain.JavaField;
import com.tngtech.archunit.core.importer.ClassFileImporter;
import com.tngtech.archunit.core.importer.ImportOption;
import java.io.IOException;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.time.YearMonth;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.EnumMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import java.util.stream.Stream;
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
        assertThat(wrong.select(".field.wrong .error").text()).isEqualTo("▲ must be 16,404.19 ft or less");
        // what the message names is taken
        assertThat(settings(owner, "48", "16404.19").status()).isEqualTo(302);
        choose(vineyard, Role.OWNER, "de", "metric");
        assertThat(settings(owner, "48", "99999")
                        .page()
                        .select(".field.wrong .error")
                        .text())
                .isEqualTo("▲ darf höchstens 5.000 m sein");
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
    void whatIsTypedInCustomaryUnitsIsShownAsItWasTyped() {
        UnitChoice.set(UnitChoice.US);
        for (Measure measure : Measure.values()) {
            // Of a stress no less than a psi is kept.
            String[] typed = measure == Measure.MEGAPASCAL
                    ? new String[] {"0", "1", "70", "24000"}
                    : new String[] {"0", "1", "70", "6.3", "0.1", "12.5", "-4.5", "1207.4"};
            for (String as : typed) {
                assertThat(measure.shown(measure.kept(new BigDecimal(as))))
                        .as(measure.name())
                        .isEqualByComparingTo(as);
            }
        }
    }

    /**
     * NIST Special Publication 811 (2008), appendix B.8: 1 lbf = 4.448222 N, 1 lbf/ft = 14.59390 N/m, 1 ft·lbf =
     * 1.355818 N m, 1 psi = 6.894757 kPa, 1 mi/h = 0.44704 m/s; a pound and an acre as above: 1/0.4535924 lb in a kg,
     * 1 ac = 0.4046873 ha (of the survey foot; the international acre differs in the sixth digit).
     */
    @Test
    void customaryUnitsAreOfThePublishedSize() {
        UnitChoice.set(UnitChoice.US);
        Map<Measure, Double> published = new EnumMap<>(Map.of(
                Measure.NEWTON, 4.448222,
                Measure.NEWTON_PER_METRE, 14.59390,
                Measure.NEWTON_METRE, 1.355818,
                Measure.MEGAPASCAL, 0.006894757,
                Measure.METRE_PER_SECOND, 0.44704,
                Measure.KELVIN, 1 / 1.8,
                Measure.DEGREE_DAY, 1 / 1.8,
                Measure.PER_KILOGRAM, 1 / 0.4535924,
                Measure.PER_HECTARE, 1 / 0.4046873));
        published.forEach((measure, size) ->
                assertThat(measure.seen(size)).as(measure.name()).isCloseTo(1, within(5e-6)));
        assertThat(Measure.NEWTON.kept(new BigDecimal("180"))).isEqualByComparingTo("800.680");
        assertThat(Measure.METRE_PER_SECOND.kept(new BigDecimal("10"))).isEqualByComparingTo("4.4704");
        assertThat(Measure.CELSIUS.seen(100)).isEqualTo(212);
    }

    @Test
    void aMeasureIsKnownByTheNameOfItsField() {
        Map<String, Measure> names = Map.of(
                "wires3.tensionN", Measure.NEWTON,
                "wires3.windNPerM", Measure.NEWTON_PER_METRE,
                "wires3.cropKgPerM", Measure.KILOGRAM_PER_METRE,
                "fixing.staplesPerKg", Measure.PER_KILOGRAM,
                "mostWindMs", Measure.METRE_PER_SECOND,
                "windHeightM", Measure.METRE,
                "drumMm", Measure.MILLIMETRE);
        names.forEach(
                (name, measure) -> assertThat(Measure.ofField(name)).as(name).isEqualTo(measure));
        assertThat(Measure.ofField("postsPerM")).isNull();
        assertThat(Measure.ofField("name")).isNull();
    }

    /** Bounds are rounded to the inner side, so that whoever types what the message says is not refused again. */
    @Test
    void aBoundAsItIsToldIsTaken() {
        UnitChoice.set(UnitChoice.US);
        for (Measure measure : Measure.values()) {
            for (double bound : new double[] {0, 0.01, 0.05, 0.1, 0.3, 0.5, 8, 60, 500, 5000, 100_000}) {
                assertThat(measure.kept(told(measure.least(bound))))
                        .as(measure + " from " + bound)
                        .isGreaterThanOrEqualTo(BigDecimal.valueOf(bound));
                assertThat(measure.kept(told(measure.most(bound))))
                        .as(measure + " to " + bound)
                        .isLessThanOrEqualTo(BigDecimal.valueOf(bound));
            }
        }
    }

    private static BigDecimal told(Object bound) {
        return new BigDecimal(bound.toString().replaceAll(" ?[^0-9]+$", "").replace(",", ""));
    }

    /** A sign such as 'm' beside a field would be metric for all: its field is named by its unit, or the sign has a ~. */
    @Test
    void everyMeasuredSignBesideAFieldIsTheReaders() throws IOException {
        List<String> signs = Arrays.stream(Measure.values()).map(Measure::unit).toList();
        Pattern field = Pattern.compile("decimal\\([|']([^|']*)[|'], .*?, '([^']*)'");
        List<String> metric = new ArrayList<>();
        int seen = 0;
        try (Stream<Path> files = Files.walk(Path.of("src/main/resources/templates"))) {
            for (Path file : files.filter(Files::isRegularFile).toList()) {
                Matcher found = field.matcher(Files.readString(file));
                while (found.find()) {
                    seen++;
                    Measure measure = Measure.ofField(found.group(1));
                    if (measure == null
                            ? signs.contains(found.group(2))
                            : !found.group(2).equals(measure.unit())) {
                        metric.add(file.getFileName() + ": " + found.group(1));
                    }
                }
            }
        }
        assertThat(metric).isEmpty();
        assertThat(seen).isGreaterThan(50);
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

    /** What a form says of a field is in our words, not in those of the library that found it. */
    @Test
    void aFaultIsToldInPlainWordsInEachLanguage() {
        TestVineyard vineyard = vineyards.fresh();
        TestBrowser owner = vineyard.as(Role.OWNER);
        Map<String, List<String>> said = Map.of(
                "en", List.of("▲ must be filled in", "▲ is too long: 12 at most"),
                "de", List.of("▲ muss ausgefüllt sein", "▲ ist zu lang: höchstens 12"),
                "fr", List.of("▲ doit être rempli", "▲ est trop long : 12 au plus"));
        said.forEach((language, errors) -> {
            choose(vineyard, Role.OWNER, language, "metric");
            assertThat(owner.send("/blocks", "code", "B1", "name", "", "boundary", "x")
                            .page()
                            .select(".field.wrong:has(#name) .error")
                            .text())
                    .isEqualTo(errors.get(0));
            assertThat(owner.send("/blocks", "code", "more than twelve", "name", "x", "boundary", "x")
                            .page()
                            .select(".field.wrong:has(#code) .error")
                            .text())
                    .isEqualTo(errors.get(1));
        });
        choose(vineyard, Role.OWNER, "de", "metric");
        assertThat(settings(owner, "91", "0")
                        .page()
                        .select(".field.wrong .error")
                        .text())
                .isEqualTo("▲ darf höchstens 66 sein");
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
