package org.rootling.training.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.nio.file.Files;
import java.nio.file.Path;
import java.time.LocalDate;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;

class GrowthStagesTest {

    /** Codes: BBCH for grapevine, Lorenz et al. 1995, as kept in shared/reference/growth-stages.csv. */
    @Test
    void every_published_stage_exists_and_no_other() throws Exception {
        List<Integer> published;
        try (Stream<String> lines = Files.lines(Path.of("shared/reference/growth-stages.csv"))) {
            published = lines.skip(1)
                    .filter(line -> line.matches("\\d\\d,.*"))
                    .map(line -> Integer.valueOf(line.substring(0, 2)))
                    .toList();
        }
        assertThat(Bbch.ALL).extracting(Bbch::code).containsExactlyElementsOf(published);
        for (int code = -5; code < 150; code++) {
            assertThat(Bbch.exists(code)).as("code %d", code).isEqualTo(published.contains(code));
        }
    }

    /** Lorenz et al. 1995: 09 bud burst, 13 third leaf, 53 clusters seen, 65 full flower, 93 leaf fall begins. */
    @Test
    void stages_follow_the_year() {
        List<Bbch> year =
                Stream.of(0, 9, 13, 53, 65, 79, 89, 93, 97).map(Bbch::new).toList();
        assertThat(year).isSorted();
        assertThat(new Bbch(13).hasReached(Bbch.BUD_BURST)).isTrue();
        assertThat(new Bbch(7).hasReached(Bbch.BUD_BURST)).isFalse();
        assertThat(Bbch.BUD_BURST).hasToString("09");
        assertThat(new Bbch(53).principal()).isEqualTo(5);
    }

    @Test
    void a_stage_is_read_with_or_without_its_zero() {
        assertThat(Bbch.parse(" bbch 09 ")).contains(new Bbch(9));
        assertThat(Bbch.parse("9")).contains(new Bbch(9));
        assertThat(Bbch.parse("10")).isEmpty();
        assertThat(Bbch.parse("-1")).isEmpty();
        assertThat(Bbch.parse("nine")).isEmpty();
        assertThat(Bbch.parse("")).isEmpty();
        assertThatThrownBy(() -> new Bbch(99)).isInstanceOf(IllegalArgumentException.class);
    }

    @Test
    void a_stage_that_goes_back_contradicts_the_record() {
        LocalDate may = LocalDate.of(2026, 5, 10);
        List<StageSeen> seen = List.of(new StageSeen(new Bbch(13), may, false));
        assertThat(StageOrder.contradiction(seen, new Bbch(11), may.plusDays(3)))
                .isPresent();
        assertThat(StageOrder.contradiction(seen, new Bbch(15), may.minusDays(3)))
                .isPresent();
        assertThat(StageOrder.contradiction(seen, new Bbch(15), may.plusDays(3)))
                .isEmpty();
        assertThat(StageOrder.contradiction(seen, new Bbch(11), may.minusDays(3)))
                .isEmpty();
        assertThat(StageOrder.contradiction(seen, new Bbch(13), may)).isEmpty();
    }

    @Test
    void an_estimate_never_contradicts_an_eye() {
        LocalDate may = LocalDate.of(2026, 5, 10);
        List<StageSeen> guessed = List.of(new StageSeen(new Bbch(13), may, true));
        assertThat(StageOrder.contradiction(guessed, new Bbch(11), may.plusDays(3)))
                .isEmpty();
    }

    @Test
    void the_estimate_is_learned_from_the_site_and_marked() {
        StageEstimates site = new StageEstimates(List.of(
                new StageEstimates.Learned(new Bbch(9), 40),
                new StageEstimates.Learned(new Bbch(9), 60),
                new StageEstimates.Learned(new Bbch(13), 120)));
        assertThat(site.at(49)).isEmpty();
        assertThat(site.at(50)).contains(new Bbch(9));
        assertThat(site.at(119.9)).contains(new Bbch(9));
        assertThat(site.at(500)).contains(new Bbch(13));
        LocalDate first = LocalDate.of(2026, 4, 1);
        double[] tenADay = new double[30];
        java.util.Arrays.fill(tenADay, 10);
        assertThat(site.reached(new DailySeries(first, tenADay), first, first.plusDays(20)))
                .containsExactly(
                        new StageSeen(new Bbch(9), LocalDate.of(2026, 4, 5), true),
                        new StageSeen(new Bbch(13), LocalDate.of(2026, 4, 12), true));
    }

    @Test
    void without_anything_seen_nothing_is_guessed() {
        assertThat(new StageEstimates(List.of()).at(10_000)).isEmpty();
    }

    @Test
    void a_later_stage_is_never_estimated_before_an_earlier_one() {
        StageEstimates site = new StageEstimates(
                List.of(new StageEstimates.Learned(new Bbch(9), 80), new StageEstimates.Learned(new Bbch(11), 60)));
        assertThat(site.at(70)).isEmpty();
        assertThat(site.at(80)).contains(new Bbch(11));
    }
}
