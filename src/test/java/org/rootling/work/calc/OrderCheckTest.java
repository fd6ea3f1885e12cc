package org.rootling.work.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.rootling.work.calc.Orders.MONDAY;
import static org.rootling.work.calc.Orders.helper;
import static org.rootling.work.calc.Orders.job;
import static org.rootling.work.calc.Orders.order;
import static org.rootling.work.calc.Orders.skilled;

import java.time.DayOfWeek;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.junit.jupiter.api.Test;
import org.rootling.work.calc.OrderFault.Kind;

class OrderCheckTest {
    private static OrderFault fault(WorkOrder order) {
        return OrderCheck.fault(order).orElseThrow();
    }

    private static WorkOrder pinned(Pin... pins) {
        Helper p = new Helper("p", Map.of(DayOfWeek.MONDAY, 8, DayOfWeek.TUESDAY, 8), Set.of("bore"), Set.of());
        return new WorkOrder(
                MONDAY,
                List.of(p, helper("q", 8)),
                List.of(),
                List.of(skilled("t1", 12, "bore"), job("t2", 4, 1, 1, "t1")),
                List.of(pins));
    }

    @Test
    void namesTheCircle() {
        WorkOrder order = order(
                List.of(helper("p", 8)),
                List.of(
                        job("a", 1, 1, 1),
                        job("b", 1, 1, 1, "d", "a"),
                        job("c", 1, 1, 1, "b"),
                        job("d", 1, 1, 1, "c")));
        assertThat(fault(order).kind()).isEqualTo(Kind.CIRCLE);
        assertThat(fault(order).names()).containsExactlyInAnyOrder("b", "c", "d");
    }

    @Test
    void aJobAfterItselfIsACircle() {
        assertThat(fault(order(List.of(helper("p", 8)), List.of(job("a", 1, 1, 1, "a")))))
                .isEqualTo(OrderFault.of(Kind.CIRCLE, "a"));
    }

    @Test
    void aChainOfThousandsIsNoCircle() {
        List<Job> jobs = new ArrayList<>();
        jobs.add(job("j0", 1, 1, 1));
        for (int i = 1; i < 3000; i++) {
            jobs.add(job("j" + i, 1, 1, 1, "j" + (i - 1)));
        }
        assertThat(OrderCheck.fault(order(List.of(helper("p", 8)), jobs))).isEmpty();
    }

    @Test
    void namesTheSkillNobodyHas() {
        assertThat(fault(order(List.of(helper("p", 8, "plant")), List.of(skilled("a", 1, "bore")))))
                .isEqualTo(OrderFault.of(Kind.SKILL_NOBODY_HAS, "a", "bore"));
    }

    @Test
    void namesTheJobThatNeedsMorePeopleThanThereAre() {
        assertThat(fault(order(List.of(helper("p", 8)), List.of(job("a", 4, 2, 3)))))
                .isEqualTo(OrderFault.of(Kind.TOO_FEW_PEOPLE, "a", "2", "1"));
    }

    @Test
    void namesTheJobWhosePeopleNeverWorkTogether() {
        Helper mondays = new Helper("m", Map.of(DayOfWeek.MONDAY, 8), Set.of(), Set.of());
        Helper tuesdays = new Helper("t", Map.of(DayOfWeek.TUESDAY, 8), Set.of(), Set.of());
        assertThat(fault(order(List.of(mondays, tuesdays), List.of(job("a", 4, 2, 2)))))
                .isEqualTo(OrderFault.of(Kind.PEOPLE_NEVER_TOGETHER, "a", "2"));
    }

    @Test
    void namesTheJobWhoseHoursNoCrewCanMakeUp() {
        assertThat(fault(order(List.of(helper("p", 8), helper("q", 8)), List.of(job("a", 3, 2, 2)))))
                .isEqualTo(OrderFault.of(Kind.HOURS_DO_NOT_DIVIDE, "a", "2"));
    }

    @Test
    void namesWhatIsUnknown() {
        assertThat(fault(order(List.of(helper("p", 8)), List.of(job("a", 1, 1, 1, "z")))))
                .isEqualTo(OrderFault.of(Kind.UNKNOWN_JOB, "a", "z"));
        assertThat(fault(order(List.of(helper("p", 8), helper("p", 4)), List.of())))
                .isEqualTo(OrderFault.of(Kind.SAME_ID_TWICE, "p"));
    }

    @Test
    void namesThePinThatCannotBeKept() {
        assertThat(fault(pinned(new Pin("t1", "q", MONDAY))).kind()).isEqualTo(Kind.PIN_SKILL);
        assertThat(fault(pinned(new Pin("t1", "p", MONDAY.plusDays(2)))).kind()).isEqualTo(Kind.PIN_ABSENT);
        assertThat(fault(pinned(new Pin("t1", "p", MONDAY.minusDays(7)))).kind())
                .isEqualTo(Kind.PIN_TOO_EARLY);
        assertThat(fault(pinned(new Pin("t1", "z", MONDAY))).kind()).isEqualTo(Kind.UNKNOWN_PERSON);
        // t1 takes 12 quarters of one person who works 8 a day, so t2 cannot begin on Monday.
        assertThat(fault(pinned(new Pin("t2", "q", MONDAY))))
                .isEqualTo(OrderFault.of(Kind.PIN_TOO_EARLY, "t2", "q", "2027-04-05"));
        assertThat(OrderCheck.fault(pinned(new Pin("t2", "q", LocalDate.of(2027, 4, 6)))))
                .isEmpty();
    }

    @Test
    void crewsOfTwoOrThreeMakeUpAnyWorkButOne() {
        for (int work = 2; work < 60; work++) {
            assertThat(Crews.fits(work, 2, 3)).isTrue();
        }
        assertThat(Crews.fits(1, 2, 3)).isFalse();
        assertThat(Crews.size(4, 2, 3, 3)).isEqualTo(2);
        assertThat(Crews.size(7, 4, 5, 5)).isZero();
    }
}
