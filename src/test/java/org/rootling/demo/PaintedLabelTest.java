package org.rootling.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.awt.image.BufferedImage;
import java.io.ByteArrayInputStream;
import java.io.IOException;
import java.time.LocalDate;
import java.util.UUID;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Stock;
import org.rootling.nursery.VineColour;

/** The painted label says what the lot's passport says, and is the same whenever it is painted. */
class PaintedLabelTest {

    private static final int CLEARLY = 60;

    private static final Lot LOT = new Lot(
            new UUID(0, 1),
            "27-A",
            "Auxerrois",
            VineColour.WHITE.name(),
            null,
            "Kober 5BB",
            "Pépinière du Tolm",
            "Aux-27-3",
            LocalDate.of(2027, 4, 12),
            75,
            75,
            0,
            0,
            75,
            0);

    private static BufferedImage painted(Stock.Passport passport) throws IOException {
        return ImageIO.read(new ByteArrayInputStream(PaintedLabel.of(LOT, passport, 3, 25)));
    }

    private static Stock.Passport passport(String trace, String origin) {
        return new Stock.Passport("Vitis vinifera", "FR-0000-77", trace, origin, null);
    }

    /** Rows of points, a little askew as the label lies, in which two pictures clearly differ. */
    private static int[] differing(BufferedImage one, BufferedImage other) {
        int first = Integer.MAX_VALUE;
        int last = -1;
        for (int y = 0; y < one.getHeight(); y++) {
            for (int x = 0; x < one.getWidth(); x++) {
                if (Math.abs((one.getRGB(x, y) & 0xff) - (other.getRGB(x, y) & 0xff)) > CLEARLY) {
                    first = Math.min(first, y);
                    last = y;
                }
            }
        }
        return new int[] {first, last};
    }

    @Test
    void eachPartStandsOnALineOfItsOwn() throws IOException {
        BufferedImage label = painted(passport("Aux-27-3", "FR"));
        assertThat(label.getWidth()).isGreaterThan(label.getHeight()).isLessThanOrEqualTo(2000);
        int[] same = differing(label, painted(passport("Aux-27-3", "FR")));
        assertThat(same[1]).isEqualTo(-1);
        int[] trace = differing(label, painted(passport("Rie-26-8", "FR")));
        int[] origin = differing(label, painted(passport("Aux-27-3", "DE")));
        assertThat(trace[0]).isPositive();
        assertThat(trace[1] - trace[0]).isBetween(20, 80);
        assertThat(origin[0]).isGreaterThan(trace[0] + 50);
        assertThat(origin[1]).isLessThan(label.getHeight());
    }
}
