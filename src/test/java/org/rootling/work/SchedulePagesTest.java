package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

@AppTest
@Import({WorkField.class, RecordingEffect.class})
class SchedulePagesTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    Steps steps;

    private TestVineyard vineyard;
    private LocalDate today;
    private TestBrowser lead;
    private String helperId;

    @BeforeEach
    void aFieldWithTasks() {
        vineyard = vineyards.fresh();
        fields.make(vineyard, 4, 100);
        today = fields.today(vineyard);
        lead = vineyard.as(Role.LEAD);
        helperId = vineyard.account(Role.HELPER).toString();
        lead.sendAndFollow("/work/plan", "steps", "MARK_OUT", "steps", "BORE", "block", "B2", "rows", "1-3");
    }

    private TestBrowser.Answer addPerson(String name, String hours, String... more) {
        String[] form = new String[18 + more.length];
        String[] base = {
            "name",
            name,
            "mon",
            hours,
            "tue",
            hours,
            "wed",
            hours,
            "thu",
            hours,
            "fri",
            hours,
            "currency",
            "GBP",
            "version",
            "0",
            "wage",
            "12.50"
        };
        System.arraycopy(base, 0, form, 0, base.length);
        System.arraycopy(more, 0, form, base.length, more.length);
        return lead.send("/work/people/new", form);
    }

    private void guess(String step, String minutes) {
        Step s = vineyard.inside(() -> steps.byCode(step).orElseThrow());
        vineyard.run(() -> steps.change(
                step,
                new Steps.Settings(
                        null,
                        1,
                        s.peopleMost(),
                        s.tool(),
                        s.skill(),
                        s.after(),
                        s.waitDays(),
                        true,
                        new BigDecimal(minutes)),
                s.version()));
    }

    @Test
    void aScheduleIsSearchedInTheBackgroundAndShown() throws InterruptedException {
        assertThat(lead.send("/work/schedule", "from", today.toString(), "seconds", "1")
                        .page()
                        .select(".alert.danger")
                        .text())
                .contains("who works when");
        assertThat(addPerson("Wim", "6").status()).isEqualTo(302);
        assertThat(addPerson(
                                "Hana",
                                "6",
                                "account",
                                helperId,
                                "daysOff",
                                today.plusDays(1).toString())
                        .status())
                .isEqualTo(302);
        assertThat(lead.send("/work/schedule", "from", today.toString(), "seconds", "1")
                        .page()
                        .select(".alert.danger")
                        .text())
                .contains("nothing to schedule");
        guess("MARK_OUT", "1");
        guess("BORE", "3");
        assertThat(lead.send("/work/schedule", "from", today.toString(), "seconds", "1")
                        .status())
                .isEqualTo(302);
        TestBrowser.Answer page = lead.open("/work/schedule");
        for (int i = 0; i < 100 && !page.page().text().contains("Done on"); i++) {
            Thread.sleep(100);
            page = lead.open("/work/schedule");
        }
        for (int i = 0; i < 100 && page.page().text().contains("Searching"); i++) {
            Thread.sleep(100);
            page = lead.open("/work/schedule");
        }
        assertThat(page.page().text())
                .contains("Bore holes · B2 r1")
                .contains("Wim")
                .contains("08:00");
        // One search at a time, and again with the order kept.
        assertThat(lead.send("/work/schedule", "from", today.toString(), "seconds", "1", "keep", "true")
                        .status())
                .isEqualTo(302);
    }

    @Test
    void hoursAndDaysThatMakeNoSenseAreRefused() {
        assertThat(addPerson("Wim", "17").page().select(".error").text()).isNotEmpty();
        assertThat(addPerson("Wim", "-1").page().select(".error").text()).isNotEmpty();
        assertThat(addPerson("", "6").page().select(".error").text()).isNotEmpty();
        assertThat(addPerson("Wim", "6", "daysOff", "tomorrow")
                        .page()
                        .select(".error")
                        .text())
                .contains("no date");
        assertThat(addPerson("Wim", "6", "account", UUID.randomUUID().toString())
                        .page()
                        .select(".error")
                        .text())
                .isNotEmpty();
        assertThat(vineyard.as(Role.HELPER).open("/work/people").status()).isEqualTo(403);
    }

    @Test
    void hoursAndCostsComeFromTheLogs() {
        addPerson("Hana", "6", "account", helperId);
        Task t = vineyard.inside(() -> tasks.open()).get(0);
        TestBrowser helper = vineyard.as(Role.HELPER);
        helper.sendAndFollow(
                "/my-day/" + t.id() + "/log",
                "entry",
                UUID.randomUUID().toString(),
                "places",
                "1-10",
                "minutes",
                "90",
                "on",
                today.toString());
        TestBrowser.Answer page = lead.open("/work/hours?by=PERSON");
        assertThat(page.page().select("td").eachText()).contains("Hana", "1.50", "18.75 GBP");
        assertThat(lead.open("/work/hours/table.csv?by=STEP").body())
                .contains("1.50")
                .contains("18.75");
        byte[] xlsx =
                lead.open("/work/hours/table.xlsx?by=WEEK").raw().getResponse().getContentAsByteArray();
        assertThat(xlsx).startsWith('P', 'K');
        assertThat(List.of(400, 409, 422))
                .contains(lead.open("/work/hours?from=2030-01-01&to=2020-01-01").status());
    }
}
