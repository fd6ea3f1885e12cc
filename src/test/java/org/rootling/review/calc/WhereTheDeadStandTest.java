package org.rootling.review.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import java.util.function.ToDoubleFunction;
import org.apache.commons.statistics.distribution.NormalDistribution;
import org.junit.jupiter.api.Test;
import org.rootling.review.calc.JoinCounts.Direction;
import org.rootling.review.calc.Stand.Cell;
import org.rootling.review.calc.Stand.Line;

class WhereTheDeadStandTest {

    /** S60 to S63, S66: 4 x 4 grid, first eight 0, last eight 1 (test of the esda library). */
    private static final Stand HALVES = stand("....", "....", "xxxx", "xxxx");

    @Test
    void the_published_grid_has_its_counts() {
        JoinCounts counts = JoinCounts.of(HALVES, 1);

        assertThat(counts.both().joins()).as("S60").isEqualTo(24);
        assertThat(counts.both().bb()).as("S61").isEqualTo(10);
        assertThat(counts.both().ww()).as("S62").isEqualTo(10);
        assertThat(counts.both().bw()).as("S63").isEqualTo(4);
        assertThat(counts.along().joins()).isEqualTo(12);
        assertThat(counts.across().joins()).isEqualTo(12);
        assertThat(counts.across().bw()).isEqualTo(4);
    }

    /** S64, S65 (Cliff and Ord): non-free expectations. */
    @Test
    void the_published_grid_has_its_expectations() {
        JoinCounts counts = JoinCounts.of(HALVES, 1);

        assertThat(counts.both().bbMoments().expected()).as("S64").isCloseTo(5.6, within(1e-9));
        assertThat(counts.both().bwMoments().expected()).as("S65").isCloseTo(12.8, within(1e-9));
    }

    /** S66: chi-square with Yates' correction of the table of joins by colour of both ends, as esda reports it. */
    @Test
    void the_published_chi_square_follows_from_the_counts() {
        Direction d = JoinCounts.of(HALVES, 1).both();
        double[][] table = {{d.ww(), d.bw() / 2.0}, {d.bw() / 2.0, d.bb()}};
        double chi = 0;
        for (int i = 0; i < 2; i++) {
            for (int j = 0; j < 2; j++) {
                double expected = (table[i][0] + table[i][1]) * (table[0][j] + table[1][j]) / d.joins();
                chi += Math.pow(Math.abs(table[i][j] - expected) - 0.5, 2) / expected;
            }
        }
        assertThat(chi).as("S66").isCloseTo(8.1666667, within(1e-6));
    }

    /** The library's 999 permutations gave pseudo-p 0.003 for BB; ours are other permutations of the same null. */
    @Test
    void the_published_grid_is_clustered() {
        assertThat(JoinCounts.of(HALVES, 1).both().clusteredP()).isCloseTo(0.003, within(0.006));
    }

    /** Moments against every possible placing, one by one. */
    @Test
    void expectations_and_variances_are_those_of_all_placings() {
        assertMoments(List.of("....", "....", "...."), 4);
        assertMoments(List.of("..... ", " ...", "...."), 5);
        assertMoments(List.of("......."), 3);
        assertMoments(List.of("..", ".. ", ".."), 1);
    }

    @Test
    void the_permutations_agree_with_all_placings() {
        Stand stand = stand("x...", "xx..", "x...");
        List<JoinCounts> all = allPlacings(List.of("....", "....", "...."), 4);
        for (ToDoubleFunction<JoinCounts> bb : List.<ToDoubleFunction<JoinCounts>>of(
                c -> c.along().bb(), c -> c.across().bb(), c -> c.both().bb())) {
            double observed = bb.applyAsDouble(JoinCounts.of(stand, 5));
            double exact =
                    all.stream().filter(c -> bb.applyAsDouble(c) >= observed).count() / (double) all.size();
            JoinCounts ours = JoinCounts.of(stand, 5);
            double p = bb.applyAsDouble(ours) == ours.both().bb()
                    ? ours.both().clusteredP()
                    : bb.applyAsDouble(ours) == ours.along().bb()
                            ? ours.along().clusteredP()
                            : ours.across().clusteredP();
            assertThat(p).isCloseTo(exact, within(4 * Math.sqrt(exact * (1 - exact) / 999) + 0.002));
        }
    }

    @Test
    void the_same_seed_gives_the_same_p() {
        Stand stand = random(30, 40, 0.1, 11);

        assertThat(JoinCounts.of(stand, 42)).isEqualTo(JoinCounts.of(stand, 42));
    }

    @Test
    void a_dead_stretch_of_row_shows_along_and_not_across() {
        List<String> rows = new ArrayList<>();
        for (int r = 0; r < 20; r++) {
            rows.add(".".repeat(60));
        }
        rows.set(9, ".".repeat(20) + "x".repeat(12) + ".".repeat(28));
        JoinCounts counts = JoinCounts.of(stand(rows.toArray(String[]::new)), 1);

        assertThat(counts.along().clusteredP()).isLessThan(0.01);
        assertThat(counts.across().clusteredP()).isGreaterThan(0.5);
    }

    @Test
    void rows_that_start_later_join_the_place_beside_them() {
        Stand stand = Stand.of(List.of(line(0, "x..."), line(2, "..x"), line(1, ".x.")));
        JoinCounts counts = JoinCounts.of(stand, 1);

        assertThat(counts.along().joins()).isEqualTo(3 + 2 + 2);
        assertThat(counts.across().joins()).isEqualTo(2 + 2);
        assertThat(counts.across().bb()).isZero();
    }

    @Test
    void places_without_a_vine_join_nothing() {
        JoinCounts counts = JoinCounts.of(stand("x x", "x.x"), 1);

        assertThat(counts.vines()).isEqualTo(5);
        assertThat(counts.along().joins()).isEqualTo(2);
        assertThat(counts.across().joins()).isEqualTo(2);
        assertThat(counts.across().bb()).isEqualTo(2);
    }

    @Test
    void none_dead_one_dead_and_all_dead_are_no_cluster() {
        for (Stand stand : List.of(stand("....", "...."), stand(".x..", "...."), stand("xxxx", "xxxx"), stand())) {
            JoinCounts counts = JoinCounts.of(stand, 1);
            assertThat(counts.both().clusteredP()).isOne();
            assertThat(counts.both().bbMoments().variance()).isBetween(0.0, 1e-9);
        }
    }

    /** Where either could be used, the moments give what the permutations give: 40 random stands near the limit. */
    @Test
    void moments_and_permutations_agree_where_there_are_many_pairs() {
        for (int seed = 0; seed < 40; seed++) {
            Stand stand = random(60, 100, 0.16, seed);
            JoinCounts counts = JoinCounts.of(stand, 1);
            assertThat(counts.permuted()).as("dead " + counts.dead()).isEqualTo(counts.dead() <= 1001);
            Direction d = counts.both();
            double normal = NormalDistribution.of(0, 1)
                    .survivalProbability((d.bb() - 0.5 - d.bbMoments().expected())
                            / d.bbMoments().spread());
            assertThat(d.clusteredP()).isCloseTo(normal, within(0.06));
        }
    }

    /** Far too many to permute: the moments' answer, checked on random stands to be neither always nor never. */
    @Test
    void a_million_vines_are_judged_by_the_moments() {
        assertThat(JoinCounts.of(random(1000, 1000, 0.05, 3), 1).both().clusteredP())
                .isBetween(0.0005, 0.9995);
        List<Line> rows = new ArrayList<>();
        for (int r = 0; r < 1000; r++) {
            rows.add(line(0, r < 50 ? "x".repeat(1000) : ".".repeat(1000)));
        }
        assertThat(JoinCounts.of(Stand.of(rows), 1).both().clusteredP()).isLessThan(1e-6);
    }

    private static void assertMoments(List<String> grid, int dead) {
        List<JoinCounts> all = allPlacings(grid, dead);
        check(all, c -> c.both());
        check(all, c -> c.along());
        check(all, c -> c.across());
    }

    private static void check(List<JoinCounts> all, java.util.function.Function<JoinCounts, Direction> of) {
        Direction any = of.apply(all.get(0));
        agree(all, c -> of.apply(c).bb(), any.bbMoments());
        agree(all, c -> of.apply(c).bw(), any.bwMoments());
        agree(all, c -> of.apply(c).ww(), any.wwMoments());
    }

    private static void agree(List<JoinCounts> all, ToDoubleFunction<JoinCounts> count, JoinCounts.Moments moments) {
        double mean = all.stream().mapToDouble(count).average().orElseThrow();
        double variance = all.stream()
                .mapToDouble(count)
                .map(x -> (x - mean) * (x - mean))
                .average()
                .orElseThrow();
        assertThat(moments.expected()).isCloseTo(mean, within(1e-9));
        assertThat(moments.variance()).isCloseTo(variance, within(1e-9));
    }

    private static List<JoinCounts> allPlacings(List<String> grid, int dead) {
        int vines = (int) String.join("", grid).chars().filter(c -> c != ' ').count();
        List<JoinCounts> all = new ArrayList<>();
        for (int mask = 0; mask < 1 << vines; mask++) {
            if (Integer.bitCount(mask) == dead) {
                int at = 0;
                List<Line> rows = new ArrayList<>();
                for (String row : grid) {
                    StringBuilder cells = new StringBuilder();
                    for (int i = 0; i < row.length(); i++) {
                        char c = row.charAt(i);
                        cells.append(c == ' ' ? ' ' : (mask >> at++ & 1) == 1 ? 'x' : '.');
                    }
                    rows.add(line(0, cells.toString()));
                }
                all.add(JoinCounts.of(Stand.of(rows), 1));
            }
        }
        return all;
    }

    private static Stand random(int rows, int places, double share, long seed) {
        var random = new Random(seed);
        List<Line> lines = new ArrayList<>();
        for (int r = 0; r < rows; r++) {
            List<Cell> cells = new ArrayList<>();
            for (int i = 0; i < places; i++) {
                cells.add(random.nextDouble() < share ? Cell.DEAD : Cell.ALIVE);
            }
            lines.add(new Line(0, cells));
        }
        return Stand.of(lines);
    }

    private static Stand stand(String... rows) {
        return Stand.of(java.util.Arrays.stream(rows).map(r -> line(0, r)).toList());
    }

    private static Line line(int offset, String cells) {
        return new Line(
                offset,
                cells.chars()
                        .mapToObj(c -> c == 'x' ? Cell.DEAD : c == ' ' ? Cell.NONE : Cell.ALIVE)
                        .toList());
    }
}
