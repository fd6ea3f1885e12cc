package org.rootling.platform;

import static org.assertj.core.api.Assertions.assertThat;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.doubles;

import java.math.BigDecimal;
import java.math.RoundingMode;
import org.junit.jupiter.api.Test;

/** What a drawing is written with. */
class MarkupWriterTest {

    @Test
    void numbersAreShortAndHaveADot() {
        assertThat(MarkupWriter.number(0)).isEqualTo("0");
        assertThat(MarkupWriter.number(-0.0004)).isEqualTo("0");
        assertThat(MarkupWriter.number(12)).isEqualTo("12");
        assertThat(MarkupWriter.number(-1.05)).isEqualTo("-1.05");
        assertThat(MarkupWriter.number(0.007)).isEqualTo("0.007");
        assertThat(MarkupWriter.number(99.9996)).isEqualTo("100");
        assertThat(MarkupWriter.number(-0.5)).isEqualTo("-0.5");
    }

    @Test
    void everyNumberIsWithinHalfAThousandthOfWhatItStandsFor() {
        qt().forAll(doubles().between(-1e7, 1e7)).checkAssert(value -> {
            BigDecimal written = new BigDecimal(MarkupWriter.number(value));
            assertThat(written.subtract(BigDecimal.valueOf(value)).abs())
                    .isLessThanOrEqualTo(new BigDecimal("0.000500001"));
            assertThat(written.scale()).isLessThanOrEqualTo(3);
            assertThat(written.setScale(3, RoundingMode.UNNECESSARY).toPlainString())
                    .startsWith(MarkupWriter.number(value));
        });
    }

    @Test
    void whatIsWrittenCannotBecomeAnElement() {
        assertThat(new MarkupWriter().text("text", "<b a=\"1\">&'", "x", 1.5).toString())
                .isEqualTo("<text x=\"1.5\">&lt;b a=&quot;1&quot;&gt;&amp;&#39;</text>");
    }
}
