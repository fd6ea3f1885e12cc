package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Collections;
import java.util.List;
import java.util.Map;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.weather.WeatherBook;
import org.rootling.work.domain.CrewService;
import org.rootling.work.domain.OutlookService;
import org.rootling.work.domain.ScheduleService;
import org.springframework.beans.factory.annotation.Autowired;
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
        for (int width : new int[] {390, 1280}) {
            try (BrowserContext context = context(width)) {
                Page page = signedIn(context, vineyard, Role.LEAD);
                for (String path : new String[] {
                    "/work",
                    "/work/schedule",
                    "/work/outlook",
                    "/work/week",
                    "/work/sheet",
                    "/work/people/new",
                    "/my-day",
                    "/my-day/sheet",
                    "/help/work"
                }) {
                    page.navigate("/v/" + vineyard.slug() + path);
                    assertThat(loaded(page).evaluate("document.documentElement.scrollWidth <= window.innerWidth"))
                            .as(path + " at " + width)
                            .isEqualTo(true);
                    picture(page, "work" + path.replace('/', '-') + "-" + width);
                }
                if (width == 1280) {
                    page.navigate("/v/" + vineyard.slug() + "/work/sheet");
                    page.emulateMedia(
                            new Page.EmulateMediaOptions().setMedia(com.microsoft.playwright.options.Media.PRINT));
                    picture(page, "work-sheet-print");
                }
            }
        }
        try (BrowserContext context = context(390)) {
            Page page = signedIn(context, vineyard, Role.HELPER);
            page.navigate("/v/" + vineyard.slug() + "/my-day");
            assertThat(text(page, "main")).contains("My plan for today");
            picture(page, "work-helper-day-390");
        }
    }
}
