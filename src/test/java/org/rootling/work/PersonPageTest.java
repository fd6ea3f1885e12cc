package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;

import java.math.BigDecimal;
import java.time.LocalDate;
import java.util.Arrays;
import java.util.List;
import java.util.UUID;
import org.jsoup.nodes.Element;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.people.domain.PeopleService;
import org.rootling.support.AppTest;
import org.rootling.support.TestBrowser;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.work.domain.CrewService;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** The page of a person: what everybody may see, what leads see besides, and of whom there is one. */
@AppTest
@Import({WorkField.class, RecordingEffect.class})
class PersonPageTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    @Autowired
    CrewService crew;

    @Autowired
    PeopleService people;

    private TestVineyard vineyard;
    private LocalDate today;
    private UUID helper;
    private UUID onList;
    private UUID task;

    @BeforeEach
    void aHelperWithATask() {
        vineyard = vineyards.fresh();
        today = fields.today(vineyard);
        helper = vineyard.account(Role.HELPER);
        WorkField.Field field = fields.make(vineyard, 1, 50);
        onList = add(
                helper,
                "Hana Helper",
                "6 0 0 4.5 0 0 0",
                List.of("auger"),
                List.of(today.minusDays(9), today.plusDays(3)));
        task = vineyard.inside(
                () -> tasks.create(new NewTask("WEED", field.row(1), null, null, null, List.of(helper), null)));
    }

    private UUID add(UUID account, String name, String hours, List<String> skills, List<LocalDate> off) {
        List<BigDecimal> week =
                Arrays.stream(hours.split(" ")).map(BigDecimal::new).toList();
        return vineyard.inside(
                () -> crew.save(null, account, name, week, skills, new BigDecimal("14"), "EUR", off, List.of(), 0));
    }

    private Element page(Role reader, UUID person) {
        TestBrowser.Answer answer = vineyard.as(reader).open("/people/" + person);
        assertThat(answer.status()).isEqualTo(200);
        return answer.page().selectFirst("main");
    }

    @Test
    void aLeadSeesWhoTheyAreWhenTheyWorkAndWhatTheyHaveToDo() {
        for (UUID id : new UUID[] {helper, onList}) {
            Element page = page(Role.LEAD, id);
            assertThat(page.selectFirst("h1").text()).isEqualTo("Hana Helper");
            assertThat(page.text())
                    .contains("Role helper", vineyard.email(Role.HELPER))
                    .contains("Monday 6 h Thursday 4.5 h Hours a week 10.5 h", "Skills auger")
                    .contains("Logged in the last twelve months Nothing.")
                    .doesNotContain("Tuesday");
            // A day off that is over is of no use any more.
            String off = page.select("dt:contains(Days off) + dd").text();
            assertThat(off)
                    .contains(String.valueOf(today.plusDays(3).getYear()))
                    .doesNotContain(",");
            assertThat(page.select("a[href$=/work/people/" + onList + "]")).hasSize(1);
            assertThat(page.select("a[href$=/history?who=" + helper + "]")).hasSize(1);
            assertThat(page.select("tbody a[href$=/work/tasks/" + task + "]")).hasSize(1);
            assertThat(page.select("a[href$=/work?person=" + helper + "]")).hasSize(1);
        }
    }

    @Test
    void helpersAndReadersSeeOfOthersTheNameAndTheOpenTasksOnly() {
        for (Element page : List.of(page(Role.READER, helper), page(Role.HELPER, vineyard.account(Role.LEAD)))) {
            assertThat(page.select("dl, a[href^=mailto], a[href*=/work/people], a[href*=/hours], a[href*=/history]"))
                    .isEmpty();
            assertThat(page.text()).doesNotContain("@").doesNotContain("Role");
            assertThat(page.select("h2").eachText()).containsExactly("Open tasks");
        }
        assertThat(page(Role.READER, helper).select("tbody tr")).hasSize(1);
        // Of themselves they see what their account says anyway.
        Element own = page(Role.HELPER, helper);
        assertThat(own.text()).contains("(you)", "Role helper", vineyard.email(Role.HELPER));
        assertThat(own.select("h2").eachText()).containsExactly("Open tasks");
        assertThat(own.select("a[href$=/my-day]")).hasSize(1);
    }

    @Test
    void whoComesForADayIsAGuestUntilTheLinkEnds() {
        UUID nell = add(null, "Nell", "0 0 0 0 0 8 0", List.of(), List.of());
        assertThat(page(Role.LEAD, nell).text()).contains("Role no account").doesNotContain("@");
        UUID account = vineyard.inside(() -> crew.dayLink(nell, 2)).account();
        for (UUID id : new UUID[] {nell, account}) {
            Element page = page(Role.LEAD, id);
            assertThat(page.selectFirst("h1").text()).isEqualTo("Nell");
            assertThat(page.text()).contains("Role helper, day link until ").doesNotContain("@");
        }
        vineyard.run(() -> crew.endLink(nell));
        assertThat(page(Role.LEAD, nell).text()).contains("Role The last link ended ");
    }

    @Test
    void whoLeftKeepsAPageAndOneWhoComesBackHasOne() {
        vineyard.run(() -> people.endMembership(helper));
        assertThat(page(Role.LEAD, helper).text()).contains("Role not a member any more");
        vineyard.run(() -> crew.withdraw(onList, 0));
        assertThat(page(Role.LEAD, onList).text()).contains("Not on the list of those who can be given work.");
        UUID again = add(helper, "Hana H.", "1 1 1 1 1 0 0", List.of(), List.of());
        for (UUID id : new UUID[] {helper, again}) {
            assertThat(page(Role.LEAD, id).text()).contains("Hana Helper In the plans Hana H.", "Hours a week 5 h");
        }
        assertThat(page(Role.LEAD, onList).text()).contains("Not on the list of those who can be given work.");
    }

    @Test
    void thereIsNoneOfStrangers() {
        TestVineyard other = vineyards.fresh();
        for (String id : new String[] {
            helper.toString(), onList.toString(), UUID.randomUUID().toString()
        }) {
            assertThat(other.as(Role.OWNER).open("/people/" + id).status()).isEqualTo(404);
        }
    }
}
