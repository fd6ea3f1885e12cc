package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.Media;
import java.math.BigDecimal;
import java.nio.file.Files;
import java.nio.file.Path;
import java.sql.Connection;
import java.sql.PreparedStatement;
import java.sql.SQLException;
import java.time.Instant;
import java.time.LocalDate;
import java.util.Collections;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.IntStream;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.weather.WeatherBook;
import org.rootling.work.domain.CrewService;
import org.rootling.work.domain.OutlookService;
import org.rootling.work.domain.ScheduleService;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.MessageSource;
import org.springframework.context.annotation.Import;

/** The planning pages as a lead sees them at a desk and a helper on a phone: nothing wider than the screen. */
@Import(WorkField.class)
class WorkLookBrowserTest extends BrowserTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    Steps steps;

    @Autowired
    Planning planning;

    @Autowired
    CrewService crew;

    @Autowired
    ScheduleService schedules;

    @Autowired
    OutlookService outlooks;

    @Autowired
    Stock stock;

    @Autowired
    WeatherBook weather;

    @Autowired
    FieldLog log;

    @Autowired
    Vineyards clock;

    @Autowired
    MessageSource messages;

    private TestVineyard vineyard;
    private LocalDate today;

    private void aWeekOfWork() {
        vineyard = vineyards.fresh();
        WorkField.Field field = fields.make(vineyard, 6, 150);
        today = fields.today(vineyard);
        vineyard.run(() -> {
            UUID bed = stock.addStore(
                    new Stock.NewStore("Bed by the barn", StoreKind.HEELED_IN, null, null, null, null, null, null));
            stock.addStore(new Stock.NewStore("Cold store", StoreKind.COLD_STORE, null, 2.0, null, null, null, null));
            stock.place(field.lot(), bed, 150, today.minusDays(12));
            weather.take(IntStream.range(-400, 6)
                    .mapToObj(d -> new WeatherBook.Day(today.plusDays(d), 4, 12, Math.floorMod(d, 4) == 2 ? 9 : 0))
                    .toList());
            for (int r = 1; r <= 6; r++) {
                for (String step : List.of("MARK_OUT", "BORE", "PLANT", "GUARD")) {
                    boolean plant = step.equals("PLANT");
                    tasks.create(new NewTask(
                            step,
                            field.row(r),
                            plant ? field.lot() : null,
                            new TreeSet<>(IntStream.rangeClosed(1, 20).boxed().toList()),
                            null,
                            List.of(vineyard.account(Role.HELPER)),
                            r == 2 && plant ? "the far end is wet" : null));
                }
            }
            Map.of("MARK_OUT", "1", "BORE", "6", "PLANT", "9", "GUARD", "3").forEach((code, guess) -> {
                Step s = steps.byCode(code).orElseThrow();
                steps.change(
                        code,
                        new Steps.Settings(
                                null, 1, s.peopleMost(), s.tool(), null, s.after(), 0, true, new BigDecimal(guess)),
                        s.version());
            });
            person(vineyard.account(Role.LEAD), "Lew Lead");
            person(vineyard.account(Role.HELPER), "Hana Helper");
            person(null, "Old Tom");
            planning.schedule(today, 2);
        });
        waitForSchedule();
    }

    private void person(UUID account, String name) {
        planning.addPerson(new Planning.NewPerson(
                account, name, Collections.nCopies(7, new BigDecimal(5)), List.of(), new BigDecimal(13), "GBP"));
    }

    private void waitForSchedule() {
        for (int i = 0;
                i < 200
                        && vineyard.inside(
                                () -> schedules.latest().orElseThrow().running());
                i++) {
            pause();
        }
    }

    private static void pause() {
        try {
            Thread.sleep(100);
        } catch (InterruptedException stopped) {
            throw new IllegalStateException(stopped);
        }
    }

    @Test
    void planningAtTheDeskAndOnAPhone() {
        aWeekOfWork();
        vineyard.run(() -> {
            CrewService.Person tom = crew.people().stream()
                    .filter(p -> p.name().equals("Old Tom"))
                    .findFirst()
                    .orElseThrow();
            crew.save(
                    tom.id(),
                    null,
                    tom.name(),
                    tom.hours(),
                    tom.skills(),
                    tom.wage(),
                    tom.currency(),
                    List.of(today),
                    List.of("PLANT"),
                    tom.version());
            schedules.start(today, 1, true);
            outlooks.start(today, 500, 11);
        });
        waitForSchedule();
        for (int i = 0;
                i < 200 && vineyard.inside(() -> outlooks.latest().orElseThrow().running());
                i++) {
            pause();
        }
        UUID bore = contradictingLogs();
        UUID tom = vineyard.inside(() -> crew.people().stream()
                .filter(p -> p.name().equals("Old Tom"))
                .findFirst()
                .orElseThrow()
                .id());
        for (int width : new int[] {390, 1280}) {
            try (BrowserContext context = context(width)) {
                Page page = signedIn(context, vineyard, Role.LEAD);
                for (String path : new String[] {
                    "/work",
                    "/work/schedule",
                    "/work/outlook",
                    "/work/week",
                    "/work/sheet",
                    "/work/steps",
                    "/work/plan",
                    "/work/people",
                    "/work/people/new",
                    "/work/people/" + tom,
                    "/people/" + tom,
                    "/people/" + vineyard.account(Role.HELPER),
                    "/work/hours",
                    "/work/hours/logs/STEP",
                    "/work/conflicts",
                    "/work/tasks/" + bore,
                    "/my-day",
                    "/my-day/" + bore,
                    "/my-day/sheet",
                    "/help/work"
                }) {
                    page.navigate("/v/" + vineyard.slug() + path);
                    nothingWider(page, path + " at " + width);
                    picture(
                            page,
                            "work"
                                    + path.replace(tom.toString(), "tom")
                                            .replaceAll("/[0-9a-f-]{36}", "-one")
                                            .replace('/', '-')
                                    + "-" + width);
                }
            }
        }
    }

    private static void nothingWider(Page page, String what) {
        assertThat(loaded(page)
                        .evaluate("document.documentElement.scrollWidth <= document.documentElement.clientWidth"))
                .as(what)
                .isEqualTo(true);
    }

    /** Logs of the helper, one of the lead on the same places, and one by a phone whose clock is a day ahead. */
    private UUID contradictingLogs() {
        return vineyard.inside(() -> {
            Task bore = tasks.open().stream()
                    .filter(t -> t.step().equals("BORE"))
                    .findFirst()
                    .orElseThrow();
            Instant now = clock.now();
            String[] runs = {"1-8", "6-12", "15-16"};
            for (int i = 0; i < 3; i++) {
                log.record(
                        new FieldLog.Entry(
                                UUID.randomUUID(),
                                bore.id(),
                                bore.row() + " " + runs[i],
                                null,
                                List.of(new Found(7 + i, "hole-too-wet")),
                                40,
                                i == 2 ? now.plusSeconds(86_400) : now.minusSeconds(3_600 - i),
                                i == 1 ? "with the small auger" : null),
                        vineyard.account(i == 1 ? Role.LEAD : Role.HELPER));
            }
            return bore.id();
        });
    }

    @Test
    void aHelpersPagesAreMadeForAThumbInAGlove() {
        aWeekOfWork();
        UUID bore = contradictingLogs();
        try (BrowserContext context = touch(390)) {
            Page page = signedIn(context, vineyard, Role.HELPER);
            page.navigate("/v/" + vineyard.slug() + "/my-day");
            assertThat(text(page, "main")).contains("My plan for today");
            nothingWider(page, "my day");
            large(page, "main a.task-card, main a.button, main .todo a, main summary");
            picture(page, "work-helper-day-390");
            page.navigate("/v/" + vineyard.slug() + "/my-day/" + bore);
            nothingWider(page, "a row");
            large(
                    page,
                    "main button:visible, main a.button, #log input:not([type=hidden]):visible, #log select:visible,"
                            + " main summary:visible");
            large(page, ".strip li.left");
            // What is pressed most is the largest, and nothing lies so close that a glove presses both.
            assertThat(page.locator("#log button.wide").boundingBox().height).isGreaterThanOrEqualTo(64);
            apart(page, "[data-quick] button, .strip li");
            picture(page, "work-helper-row-390");
            sunlit(page, "main h1, #log label, #log button.wide, .strip li.left b, .strip li.done b, .level:visible");
        }
    }

    /** At least 56 CSS pixels high: above the 44 of WCAG 2.2, 2.5.5 (enhanced), for gloves; common practice, no source. */
    private static void large(Page page, String what) {
        List<?> small = (List<?>) page.locator(what)
                .evaluateAll("all => all.filter(e => e.getClientRects().length > 0 && e.getBoundingClientRect().height"
                        + " < 55.5).map(e => e.outerHTML.slice(0, 90) + ' ' + e.getBoundingClientRect().height)");
        assertThat(page.locator(what).count()).isPositive();
        assertThat(small).isEmpty();
    }

    /** No two of them lie over each other. */
    private static void apart(Page page, String what) {
        assertThat(page.locator(what).evaluateAll("""
                        all => { const r = all.map(e => e.getBoundingClientRect()).filter(b => b.height > 0); let over = 0;
                          for (let i = 0; i < r.length; i++) for (let j = i + 1; j < r.length; j++)
                            if (r[i].left < r[j].right && r[j].left < r[i].right && r[i].top < r[j].bottom && r[j].top < r[i].bottom) over++;
                          return over; }""")).isEqualTo(0);
    }

    /** Contrast of 7:1 and more: WCAG 2.2, 1.4.6 (enhanced), with its relative luminance. */
    private static void sunlit(Page page, String what) {
        List<?> faint = (List<?>) page.locator(what).evaluateAll("""
                        all => { const rgb = (c) => c.match(/[\\d.]+/g).map(Number);
                          const light = (c) => { const [r, g, b] = rgb(c).map(v => v / 255).map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4);
                            return 0.2126 * r + 0.7152 * g + 0.0722 * b; };
                          const behind = (e) => { for (let n = e; n; n = n.parentElement) { const c = getComputedStyle(n).backgroundColor;
                            if (!/, 0\\)$/.test(c) && c !== 'transparent') return c; } return 'rgb(255, 255, 255)'; };
                          return all.map(e => { const a = light(getComputedStyle(e).color), b = light(behind(e));
                            return [(Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05), e.textContent.trim().slice(0, 30)]; })
                            .filter(x => x[0] < 7).map(x => x.join(' ')); }""");
        assertThat(faint).isEmpty();
    }

    @Test
    void theWeeksWordsAreWholeInEveryLanguageAndOnPaper() throws Exception {
        aWeekOfWork();
        for (String language : new String[] {"en", "de", "fr"}) {
            speaks(Role.LEAD, language);
            List<String> names = vineyard.inside(() -> tasks.open().stream()
                    .map(Task::step)
                    .distinct()
                    .map(code -> in(language, "work.step." + code))
                    .toList());
            for (int width : new int[] {390, 1280}) {
                try (BrowserContext context = context(width)) {
                    Page page = signedIn(context, vineyard, Role.LEAD);
                    page.navigate("/v/" + vineyard.slug() + "/work/week");
                    nothingWider(page, "week " + language + " " + width);
                    wholeWords(page, names);
                    picture(page, "work-week-" + language + "-" + width);
                    // Letters on the screen as large as they are drawn, or nearly.
                    assertThat(page.evaluate(
                                    "document.querySelector('svg.week').getBoundingClientRect().width > 0.95 * 1179"))
                            .isEqualTo(true);
                    if (width == 1280) {
                        for (String paper : new String[] {"A4", "Letter"}) {
                            onPaper(page, names, paper, language);
                        }
                    }
                }
            }
        }
    }

    private void wholeWords(Page page, List<String> names) {
        assertThat((List<?>) page.evaluate("""
                        () => [...document.querySelectorAll('svg.week text')].filter(t => {
                          const x = Number(t.getAttribute('x')), w = t.getComputedTextLength();
                          const edge = x < 108 ? 108 : 108 + Math.ceil((x - 108) / 153) * 153;
                          return x + w > edge || t.textContent.includes('\u2026'); }).map(t => t.textContent)"""))
                .as("words that leave their column")
                .isEmpty();
        // Word for word, across the lines and without the hyphens of broken words.
        String drawn = ((String) page.evaluate(
                        "[...document.querySelectorAll('svg.week text')].map(t => t.textContent).join(' ')"))
                .replace("- ", "")
                .replaceAll("\\s+", "");
        String table = text(page, "main table");
        for (String name : names) {
            assertThat(drawn).contains(name.replace("- ", "").replaceAll("\\s+", ""));
            assertThat(table).contains(name);
        }
        assertThat(page.locator("svg.week g > title").count())
                .isEqualTo(page.locator("svg.week rect.stint").count())
                .isPositive();
    }

    private void onPaper(Page page, List<String> names, String paper, String language) throws Exception {
        byte[] pdf = page.pdf(new Page.PdfOptions().setFormat(paper).setPreferCSSPageSize(false));
        Files.write(Path.of("target", "screenshots", "work-week-" + language + "-" + paper + ".pdf"), pdf);
        try (PDDocument document = Loader.loadPDF(pdf)) {
            // Three people fit one sheet, laid across.
            assertThat(document.getNumberOfPages()).isEqualTo(1);
            assertThat(document.getPage(0).getMediaBox().getWidth())
                    .isGreaterThan(document.getPage(0).getMediaBox().getHeight());
            String text = new PDFTextStripper().getText(document).replaceAll("-?\\s+", "");
            for (String name : names) {
                assertThat(text).contains(name.replaceAll("-?\\s+", ""));
            }
        }
    }

    @Test
    void daySheetsLoseNothingOnPaper() throws Exception {
        aWeekOfWork();
        try (BrowserContext context = context(1280)) {
            Page page = signedIn(context, vineyard, Role.LEAD);
            for (String path : new String[] {"/work/sheet", "/my-day/sheet", "/work/hours", "/work/schedule"}) {
                page.navigate("/v/" + vineyard.slug() + path);
                page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.PRINT));
                for (Map.Entry<String, Integer> paper :
                        Map.of("A4", 688, "Letter", 710).entrySet()) {
                    // Width between margins of 14 mm, at 96 px to the inch.
                    page.setViewportSize(paper.getValue(), 900);
                    nothingWider(page, path + " on " + paper.getKey());
                    picture(page, "print" + path.replace('/', '-') + "-" + paper.getKey());
                    String shown = (String) page.evaluate("document.querySelector('main').innerText");
                    byte[] pdf = page.pdf(new Page.PdfOptions().setFormat(paper.getKey()));
                    Files.write(
                            Path.of(
                                    "target",
                                    "screenshots",
                                    "print" + path.replace('/', '-') + "-" + paper.getKey() + ".pdf"),
                            pdf);
                    try (PDDocument document = Loader.loadPDF(pdf)) {
                        String text = new PDFTextStripper().getText(document).replaceAll("\\s+", "");
                        for (String word : shown.split("\\s+")) {
                            assertThat(text).as(path).contains(word);
                        }
                    }
                }
                page.emulateMedia(new Page.EmulateMediaOptions().setMedia(Media.SCREEN));
                page.setViewportSize(1280, 900);
            }
            page.navigate("/v/" + vineyard.slug() + "/work/sheet");
            assertThat(page.locator("section.person-sheet").count()).isGreaterThan(1);
        }
    }

    private void speaks(Role role, String language) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                PreparedStatement set = owner.prepareStatement("update account set locale = ? where id = ?")) {
            set.setString(1, language);
            set.setObject(2, vineyard.account(role));
            set.executeUpdate();
        }
    }

    private String in(String language, String key) {
        return messages.getMessage(key, null, Locale.forLanguageTag(language));
    }
}
