package org.rootling.work;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import java.io.StringReader;
import java.net.URI;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import net.fortuna.ical4j.data.CalendarBuilder;
import net.fortuna.ical4j.model.component.VEvent;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** Tasks in a person's private calendar (RFC 5545). */
@AppTest
@Import({WorkField.class, RecordingEffect.class})
class CalendarTasksTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    WorkField fields;

    @Autowired
    Tasks tasks;

    private UUID task(TestVineyard vineyard, String step, UUID row, LocalDate due, Role role) {
        return vineyard.inside(
                () -> tasks.create(new NewTask(step, row, null, null, due, List.of(vineyard.account(role)), null)));
    }

    @Test
    void theStepsOfABlockStandOnTheirEarliestDueDayForWhomTheyAreGivenTo() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        WorkField.Field field = fields.make(vineyard, 3, 60);
        LocalDate today = fields.today(vineyard);
        task(vineyard, "WEED", field.row(1), today.plusDays(9), Role.HELPER);
        UUID earliest = task(vineyard, "WEED", field.row(2), today.plusDays(4), Role.HELPER);
        task(vineyard, "WEED", field.row(3), today.plusDays(2), Role.LEAD);
        task(vineyard, "GUARD", field.row(1), null, Role.HELPER);
        var page = vineyard.as(Role.HELPER).open("/calendar").page();
        assertThat(page.select("main li")).hasSize(1);
        assertThat(page.select("main li").text()).contains("B2, 2 rows, 40 places to do");
        var made = vineyard.as(Role.HELPER).send("/calendar/address");
        String path = URI.create(String.valueOf(made.raw().getFlashMap().get("address")))
                .getPath();
        VEvent event = event(vineyard, path);
        String uid = event.getUid().orElseThrow().getValue();
        assertThat(event.getDateTimeStart().getDate()).isEqualTo(today.plusDays(4));
        assertThat(event.getDescription().getValue()).contains("B2 r1: 20 places", "B2 r2: 20 places");
        // The same matter keeps its UID, so that a calendar program moves it instead of adding another.
        vineyard.run(() -> tasks.change(earliest, List.of(vineyard.account(Role.HELPER)), today.plusDays(6), null, 0));
        VEvent moved = event(vineyard, path);
        assertThat(moved.getUid().orElseThrow().getValue()).isEqualTo(uid);
        assertThat(moved.getDateTimeStart().getDate()).isEqualTo(today.plusDays(6));
    }

    private static VEvent event(TestVineyard vineyard, String path) throws Exception {
        String text =
                vineyard.mvc().perform(get(path)).andReturn().getResponse().getContentAsString(StandardCharsets.UTF_8);
        List<VEvent> events =
                new CalendarBuilder().build(new StringReader(text)).getComponents("VEVENT");
        assertThat(events).hasSize(1);
        return events.get(0);
    }
}
