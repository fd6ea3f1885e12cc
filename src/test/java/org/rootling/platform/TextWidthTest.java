package org.rootling.platform;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;

/** Lines that fit, and no letter lost; that they fit in a real browser too is WorkLookBrowserTest's. */
class TextWidthTest {

    @Test
    void wordsGoToTheNextLineAndLongOnesAreBroken() {
        assertThat(TextWidth.wrap("08:15 Bore holes B2", 13, 1000)).containsExactly("08:15 Bore holes B2");
        assertThat(TextWidth.wrap("Bore holes", 13, TextWidth.of("Bore holes", 13) - 1))
                .containsExactly("Bore", "holes");
        List<String> lines = TextWidth.wrap("Drahtrahmenspannvorrichtung", 13, 80);
        assertThat(lines).hasSizeGreaterThan(2);
        assertThat(lines.subList(0, lines.size() - 1)).allMatch(l -> l.endsWith("-"));
        assertThat(TextWidth.wrap("Anne-Marie", 13, TextWidth.of("Anne-Mar", 13)))
                .containsExactly("Anne-", "Marie");
        assertThat(TextWidth.wrap(" ", 13, 80)).isEmpty();
        assertThat(TextWidth.wrap("W", 13, 1)).containsExactly("W");
    }

    @Test
    void aRowStaysWithItsBlock() {
        assertThat(TextWidth.wrap("Plant B2\u00a0r7", 13, TextWidth.of("Plant B2", 13)))
                .containsExactly("Plant", "B2\u00a0r7");
    }

    @Test
    void everyLineFitsAndEveryLetterStays() {
        Random random = new Random(4);
        String letters = "abc defghiéèßœ Wm-ilj. ";
        for (int i = 0; i < 2000; i++) {
            StringBuilder text = new StringBuilder();
            for (int n = random.nextInt(60); n > 0; n--) {
                text.append(letters.charAt(random.nextInt(letters.length())));
            }
            double room = 40 + random.nextInt(160);
            List<String> lines = TextWidth.wrap(text.toString(), 13, room);
            assertThat(lines).allMatch(l -> TextWidth.of(l, 13) <= room);
            assertThat(String.join("", lines).replaceAll("[-\\s]", ""))
                    .isEqualTo(text.toString().replaceAll("[-\\s]", ""));
        }
    }
}
