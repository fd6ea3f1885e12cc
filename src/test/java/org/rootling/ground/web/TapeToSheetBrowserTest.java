package org.rootling.ground.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.AriaRole;
import com.microsoft.playwright.options.Media;
import java.io.IOException;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** From what the tape said to the printed sheet, on a phone of 390 px; each page is also pictured at the width of a desk. */
class TapeToSheetBrowserTest extends BrowserTest {

    /**
     * A field of five corners, (0,0) (62,4) (70,38) (30,55) (-6,30), read with a careless centimetre or two; 3,008 square
     * metres by coordinates (Gauss's shoelace formula, textbook).
     */
    private static final String MEASURES =
            "1-2 62.14\n2-3 34.91\n3-4 43.46\n4-5 43.85\n5-1 30.58\n1-3 79.66\n1-4 62.65\n2-4 60.20\n2-5 72.82\n3-5 76.43";

    @Autowired
    TestVineyards vineyards;

    @Test
    void fromTheTapeToThePrintedSheet() throws IOException {
        TestVineyard vineyard = vineyards.fresh();
        try (BrowserContext phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.LEAD);
            page.navigate("/v/" + vineyard.slug() + "/blocks");
            lookAt(page, "ground-list");
            link(page, "New block");
            lookAt(page, "ground-new");
            link(page, "Corners from a tape");
            page.fill("#corners", "5");
            page.fill("#measures", MEASURES);
            press(page, "Work out the field");
            double area = Double.parseDouble(
                    text(page, ".figure").replaceAll(" .*", "").replace(",", ""));
            assertThat(area).isCloseTo(3008, within(3.0));
            assertThat(text(page, "main")).contains("3 measures more than needed");
            lookAt(page, "ground-tape");
            page.fill("#new-code", "T5");
            page.fill("#new-name", "Five Corners");
            press(page, "Keep the block");
            assertThat(text(page, "h1")).isEqualTo("T5 · Five Corners");
            lookAt(page, "ground-block-bare");

            link(page, "Compare layouts");
            lookAt(page, "ground-choices");
            page.locator("main tbody a:has-text('the fullest')").click();
            String shown = text(page, ".figure");
            lookAt(page, "ground-layout");
            press(page, "Accept: make these rows");
            Matcher count = Pattern.compile("([\\d,]+) vines in (\\d+) rows").matcher(shown);
            assertThat(count.matches()).isTrue();
            assertThat(text(page, "main")).contains(count.group(1), count.group(2));
            lookAt(page, "ground-block");

            link(page, "Stake-out sheet");
            lookAt(page, "ground-sheet");
            int rows = Integer.parseInt(count.group(2));
            printed(page, rows);
            pdf(page, rows);
        }
    }

    /** On paper stand the measures and neither menu nor buttons; a row is not torn apart between two pages. */
    private static void printed(Page page, int rows) throws IOException {
        page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
        picture(page, "ground-sheet-print");
        assertThat(loaded(page)
                        .locator("button:not(.sort):visible, .button:visible, form:visible")
                        .count())
                .isZero();
        assertThat(loaded(page).locator("nav:visible").count()).isZero();
        sheet(page.pdf(new Page.PdfOptions().setFormat("A4")), rows);
        page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.SCREEN));
    }

    private static void pdf(Page page, int rows) throws IOException {
        String address = page.locator("a:has-text('PDF')").getAttribute("href");
        byte[] file = page.request().get(address).body();
        sheet(file, rows);
        java.nio.file.Files.write(java.nio.file.Path.of("target", "screenshots", "ground-sheet.pdf"), file);
    }

    private static void sheet(byte[] file, int rows) throws IOException {
        try (PDDocument document = Loader.loadPDF(file)) {
            String text = new PDFTextStripper().getText(document);
            assertThat(text.replaceAll("\\s+", " "))
                    .contains("Stake-out sheet of T5", "Peg A", "Peg B", "The right angle", "buried cables")
                    .contains("Both diagonals must read");
            // every row has its line among the pegs and again among the posts
            for (int row = 1; row <= rows; row++) {
                assertThat(Pattern.compile("(?m)^" + row + " [\\d.,]+ ")
                                .matcher(text)
                                .results())
                        .as("row " + row)
                        .hasSizeGreaterThanOrEqualTo(2);
            }
            triangle(text);
        }
    }

    /** The right angle is one: the legs and the diagonal on the sheet obey Pythagoras to the centimetre they are rounded to. */
    private static void triangle(String text) {
        Matcher m = Pattern.compile("([\\d.]+) m on one leg, ([\\d.]+) m on the\\s+other, ([\\d.]+) m between")
                .matcher(text.replaceAll("\\s+", " "));
        assertThat(m.find()).isTrue();
        assertThat(Math.hypot(Double.parseDouble(m.group(1)), Double.parseDouble(m.group(2))))
                .isCloseTo(Double.parseDouble(m.group(3)), within(0.011));
    }

    /** On a phone that runs no scripts; the pages on the way are looked at afterwards with scripts. */
    @Test
    void withoutScriptsTheSheetIsWalkedStepByStepAndReadingsComeBackWithAVerdict() {
        TestVineyard vineyard = vineyards.fresh();
        try (BrowserContext bare = context(390, false);
                BrowserContext phone = context(390)) {
            Page page = signedIn(bare, vineyard, Role.LEAD);
            page.navigate("/v/" + vineyard.slug() + "/blocks/new");
            page.fill("#code", "S1");
            page.fill("#name", "Steps");
            page.fill("#boundary", "0 0\n24 0\n24 40\n0 40");
            press(page, "Keep the block");
            link(page, "Lay out the rows");
            Map<String, String> seen = new LinkedHashMap<>();
            seen.put("ground-layout-form", loaded(page).url());
            page.fill("#rowBearingDeg", "0");
            press(page, "Show the rows");
            press(page, "Accept: make these rows");
            link(page, "Stake-out sheet");
            link(page, "Step by step on the phone");
            Matcher last = Pattern.compile("Step 1 of (\\d+)").matcher(text(page, "h1"));
            assertThat(last.matches()).isTrue();
            seen.put("ground-step-1", page.url());
            int steps = Integer.parseInt(last.group(1));
            // four steps for the frame, then one for each of the ten rows that fit between the margins
            assertThat(steps).isEqualTo(14);
            for (int step = 2; step <= steps; step++) {
                link(page, "Next");
                assertThat(text(page, "h1")).isEqualTo("Step " + step + " of " + steps);
                if (step == 4 || step == 5) {
                    seen.put("ground-step-" + step, page.url());
                }
            }
            assertThat(loaded(page).locator("main a:has-text('Next')").count()).isZero();
            link(page, "Back");
            assertThat(text(page, "h1")).isEqualTo("Step " + (steps - 1) + " of " + steps);

            link(page, "Stake-out sheet of S1");
            verdict(page, "30", "40", "50", "Accept");
            // 28 m rows: 8 cm at their far end are shifted, and the cosine rule (textbook) gives the diagonal for that
            verdict(page, "30", "40", diagonal(30, 40, 28, 0.08), "Shift");
            seen.put("ground-verdict", page.url());
            verdict(page, "30", "40", diagonal(30, 40, 28, 0.9), "Redo");
            verdict(page, "30", "abc", "50", null);
            assertThat(loaded(page).locator(".field.wrong #lengthM").count()).isOne();

            Page full = signedIn(phone, vineyard, Role.LEAD);
            seen.forEach((name, address) -> {
                full.navigate(address);
                lookAt(full, name);
            });
        }
    }

    private static String diagonal(double a, double b, double row, double swing) {
        double angle = Math.PI / 2 + 2 * Math.asin(swing / 2 / row);
        return String.valueOf(Math.rint(Math.sqrt(a * a + b * b - 2 * a * b * Math.cos(angle)) * 1000) / 1000);
    }

    private static void verdict(
            Page page, String width, String length, String diagonal, @org.jspecify.annotations.Nullable String word) {
        page.fill("#widthM", width);
        page.fill("#lengthM", length);
        page.fill("#diagonalM", diagonal);
        press(page, "What does it mean?");
        if (word != null) {
            assertThat(text(page, "main .alert[role=status]")).contains(word);
        }
    }

    private static void press(Page page, String button) {
        page.locator("main")
                .getByRole(
                        AriaRole.BUTTON,
                        new Locator.GetByRoleOptions().setName(button).setExact(true))
                .click();
    }

    private static void link(Page page, String name) {
        page.locator("main")
                .getByRole(
                        AriaRole.LINK,
                        new Locator.GetByRoleOptions().setName(name).setExact(true))
                .first()
                .click();
    }
}
