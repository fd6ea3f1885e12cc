package org.rootling.ground.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.time.Duration;
import org.junit.jupiter.api.Assertions;
import org.junit.jupiter.api.Test;
import org.rootling.ground.Point;
import org.rootling.platform.Refused;

/** Corners typed as text, also by someone who means harm. */
class CornersTextTest {

    @Test
    void numbersArePartedBySemicolonsBlanksOrCommas() {
        for (String typed : new String[] {
            "0;0\n60,5;0\n60,5 ; 40", "0 0\n60.5 0\n60.5  40", "0,0\n60.5,0\n60.5 , 40", "0, 0\n60.5, 0\n60.5, 40"
        }) {
            assertThat(CornersText.read(typed, "boundary"))
                    .as(typed)
                    .containsExactly(new Point(0, 0), new Point(60.5, 0), new Point(60.5, 40));
        }
    }

    /** A form takes 100,000 signs: a pattern that goes back at each of them would take minutes (CWE-1333). */
    @Test
    void aLongLineOfBlanksIsRefusedAtOnce() {
        for (String harm : new String[] {
            "1" + " ".repeat(99_000) + "x;2",
            "1" + " ".repeat(99_000) + "x",
            "1,".repeat(49_000) + "x",
            "1 ".repeat(49_000) + "x"
        }) {
            Assertions.assertTimeout(
                    Duration.ofSeconds(2),
                    () -> assertThatThrownBy(() -> CornersText.read(harm, "boundary"))
                            .isInstanceOf(Refused.class));
        }
    }
}
