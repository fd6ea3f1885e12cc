package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.Media;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.concurrent.ExecutionException;
import javax.imageio.ImageIO;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.rendering.PDFRenderer;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.rootling.support.PaperEdge;

/** Plans, sheets, lists and reviews are taken into the field and the file on A4 and on Letter. */
class DemoPaperTest extends DemoBrowserTest {

    private static final int MOST_SHEETS = 12;

    /** What is of no use on paper and still shows, and tables whose heading would stand on the first sheet only. */
    private static final String OUT_OF_PLACE = """
            () => [...document.querySelectorAll('nav, button, .button, .skip, .past, .foot, input:not([type=hidden]), '
                + 'select, textarea, dialog, progress')].filter(e => e.checkVisibility()
                && e.getBoundingClientRect().width > 1).map(e => 'printed: ' + e.outerHTML.slice(0, 100))
              .concat([...document.querySelectorAll('thead')].filter(e => e.checkVisibility()
                && getComputedStyle(e).display !== 'table-header-group').map(e => 'no heading: ' + e.textContent.trim()))""";

    @Test
    void mainPagesPrintOnA4AndOnLetter() throws IOException, ExecutionException, InterruptedException {
        List<String> wrong = Collections.synchronizedList(new ArrayList<>());
        try (BrowserContext desk = context(1280)) {
            signIn(desk, "owner");
            List<String> paths = new ArrayList<>();
            for (String path : new String[] {
                "",
                "lots",
                "orders",
                "blocks",
                "blocks/GP",
                "blocks/GP/stake-out",
                "work",
                "work/schedule",
                "work/week",
                "work/sheet",
                "work/hours",
                "work/outlook",
                "year-one",
                "year-one/GP",
                "progress",
                "review",
                "review/heights",
                "review/season",
                "weather",
                "trellis/blocks/GP",
                "trellis/blocks/GP/loads",
                "trellis/order",
                "vine-lists",
                "people"
            }) {
                paths.add(HOME + path);
            }
            for (String route : new String[] {
                "/lots/{code}",
                "/orders/{id}",
                "/deliveries/{id}",
                "/stores/{id}",
                "/rows/{id}",
                "/vines/{id}",
                "/people/{id}"
            }) {
                paths.add(path(desk, route));
            }
            eachInTwoBrowsers(paths, session("owner"), (page, path) -> wrong.addAll(onPaper(page, path)));
        }
        assertThat(wrong).isEmpty();
    }

    private static List<String> onPaper(Page page, String path) {
        List<String> wrong = new ArrayList<>();
        String name = "print" + path.substring(HOME.length() - 1).replaceAll("/|[0-9a-f]{8}-.*", "-");
        page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
        page.navigate(path);
        for (Object found : (List<?>) page.evaluate(OUT_OF_PLACE)) {
            wrong.add(name + " " + found);
        }
        try {
            for (String paper : new String[] {"A4", "Letter"}) {
                wrong.addAll(printed(page, paper, name, page.innerText("h1")));
            }
        } catch (IOException unreadable) {
            throw new UncheckedIOException(unreadable);
        }
        return wrong;
    }

    private static List<String> printed(Page page, String paper, String name, String heading) throws IOException {
        List<String> wrong = new ArrayList<>();
        String what = name + " on " + paper;
        try (PDDocument document = Loader.loadPDF(page.pdf(new Page.PdfOptions().setFormat(paper)))) {
            if (document.getNumberOfPages() > MOST_SHEETS) {
                wrong.add(what + " takes " + document.getNumberOfPages() + " sheets");
            }
            String text = plain(new PDFTextStripper().getText(document));
            for (String said : new String[] {"Quillow Bank", heading}) {
                if (!text.contains(plain(said))) {
                    wrong.add(what + " does not say " + said);
                }
            }
            if (text.contains("Sign out")) {
                wrong.add(what + " prints the foot of the page");
            }
            PaperEdge.beyond(document).forEach(sign -> wrong.add(what + " is cut off: " + sign));
            for (int sheet = 1; sheet <= document.getNumberOfPages(); sheet++) {
                PDFTextStripper one = new PDFTextStripper();
                one.setStartPage(sheet);
                one.setEndPage(sheet);
                if (one.getText(document).isBlank()) {
                    wrong.add(what + " has nothing on sheet " + sheet);
                }
            }
            if (paper.equals("A4")) {
                Path folder = Files.createDirectories(Path.of("target", "screenshots"));
                ImageIO.write(
                        new PDFRenderer(document).renderImageWithDPI(0, 60),
                        "png",
                        folder.resolve(name + ".png").toFile());
            }
        }
        return wrong;
    }

    private static String plain(String text) {
        return text.replaceAll("\\s+", " ").strip();
    }

    @Test
    void aLongTableRepeatsItsHeadingOnEverySheet() throws IOException {
        try (BrowserContext desk = context(1280)) {
            Page owner = signIn(desk, "owner");
            owner.navigate(HOME + "vine-lists");
            String heading = owner.locator("main thead th")
                    .first()
                    .textContent()
                    .replace("⇅", "")
                    .strip();
            for (String paper : new String[] {"A4", "Letter"}) {
                try (PDDocument document = Loader.loadPDF(owner.pdf(new Page.PdfOptions().setFormat(paper)))) {
                    assertThat(document.getNumberOfPages()).as(paper).isGreaterThan(1);
                    for (int sheet = 1; sheet < document.getNumberOfPages(); sheet++) {
                        PDFTextStripper text = new PDFTextStripper();
                        text.setStartPage(sheet);
                        text.setEndPage(sheet);
                        assertThat(text.getText(document))
                                .as(paper + " " + sheet)
                                .contains(heading);
                    }
                }
            }
        }
    }
}
