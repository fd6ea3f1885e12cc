package org.rootling.planting;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;
import static org.quicktheories.generators.SourceDSL.lists;

import java.util.List;
import java.util.TreeSet;
import org.junit.jupiter.api.Test;

class PlaceSetsTest {

    @Test
    void neighbours_are_joined() {
        TreeSet<Integer> places = new TreeSet<>(List.of(3, 4, 5, 7, 9, 10));
        assertThat(PlaceSets.words(places)).isEqualTo("3-5, 7, 9-10");
        assertThat(PlaceSets.toMultirange(places)).isEqualTo("{[3,6),[7,8),[9,11)}");
        assertThat(PlaceSets.words(List.of())).isEmpty();
        assertThat(PlaceSets.toMultirange(new TreeSet<>())).isEqualTo("{}");
    }

    @Test
    void what_is_written_is_read_again() {
        qt().forAll(lists().of(integers().between(1, 300)).ofSizeBetween(0, 80)).checkAssert(list -> {
            TreeSet<Integer> places = new TreeSet<>(list);
            assertThat(PlaceSets.fromMultirange(PlaceSets.toMultirange(places))).isEqualTo(places);
        });
    }
}
