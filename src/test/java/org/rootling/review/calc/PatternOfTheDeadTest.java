package org.rootling.review.calc;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.rootling.review.calc.DeadPattern.Part;
import org.rootling.review.calc.DeadPattern.Stretch;
import org.rootling.review.calc.Stand.Cell;
import org.rootling.review.calc.Stand.Line;

class PatternOfTheDeadTest {

    @Test
    void the_edge_is_the_row_ends_and_the_outermost_rows() {
        DeadPattern pattern = DeadPattern.of(rows("......", "xx..x.", ".. ...", "......"));

        assertThat(pattern.edge()).isEqualTo(new Part(6 + 4 + 4 + 6, 3));
        assertThat(pattern.inner()).isEqualTo(new Part(2 + 1, 0));
    }

    @Test
    void an_eaten_edge_shows_and_an_even_stand_does_not() {
        String whole = ".".repeat(40);
        String[] eaten = new String[20];
        Arrays.fill(eaten, "xx" + ".".repeat(36) + ".x");
        eaten[0] = "x.".repeat(20);
        eaten[19] = whole;
        assertThat(DeadPattern.of(rows(eaten)).edgeWorse(0.05)).isTrue();

        String[] even = new String[20];
        Arrays.fill(even, "....x...x...x...x...x...x...x...x...x...");
        assertThat(DeadPattern.of(rows(even)).edgeWorse(0.05)).isFalse();
    }

    @Test
    void the_longest_dead_stretches_come_first_and_short_ones_not_at_all() {
        DeadPattern pattern = DeadPattern.of(rows("xxx....", "xx.xxxx", ".x x.xx"));

        assertThat(pattern.stretches()).containsExactly(new Stretch(1, 4, 7), new Stretch(0, 1, 3));
    }

    @Test
    void nothing_planted_is_no_pattern() {
        DeadPattern pattern = DeadPattern.of(List.of());

        assertThat(pattern.edgeP()).isOne();
        assertThat(pattern.edgeWorse(0.05)).isFalse();
        assertThat(pattern.stretches()).isEmpty();
    }

    private static List<Line> rows(String... rows) {
        return Arrays.stream(rows)
                .map(row -> new Line(
                        0,
                        row.chars()
                                .mapToObj(c -> c == 'x' ? Cell.DEAD : c == ' ' ? Cell.NONE : Cell.ALIVE)
                                .toList()))
                .toList();
    }
}
