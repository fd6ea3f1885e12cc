package org.rootling.training;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.assertions.PlaywrightAssertions;
import com.microsoft.playwright.options.FilePayload;
import java.awt.Color;
import java.awt.Graphics2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.time.LocalDate;
import java.util.List;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import java.util.stream.IntStream;
import javax.imageio.ImageIO;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.TestField;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.context.annotation.Import;

/** A helper walks a row on a phone; the lead reads it at the desk. */
@Import(TestField.class)
class RowWalkBrowserTest extends BrowserTest {

    /** Nothing sticks out to the side. */
    private static final String FITS = "document.documentElement.scrollWidth <= window.innerWidth";

    /** Pages of the desk that are pictured; the others are only measured. */
    private static final List<String> DRAWN = List.of("/rows/", "/water", "/treatments", "/checklist");

    @Autowired
    TestVineyards vineyards;

    @Autowired
    TestField fields;

    @Autowired
    Vines vines;

    @Test
    void a_row_is_walked_on_a_phone_and_read_at_the_desk() {
        TestVineyard vineyard = vineyards.fresh();
        TestField.Field field = fields.make(vineyard, 60);
        UUID row = field.row(1).id();
        LocalDate today = fields.today(vineyard);
        vineyard.run(() -> vines.plant(new NewPlanting(
                Ids.next(),
                row,
                IntStream.rangeClosed(1, 18).boxed().collect(Collectors.toCollection(TreeSet::new)),
                field.lot(),
                today.minusDays(50),
                vineyard.account(Role.HELPER))));
        try (BrowserContext phone = context(390)) {
            Page page = signedIn(phone, vineyard, Role.HELPER);
            page.navigate("/v/" + vineyard.slug() + "/year-one");
            picture(page, "year-one-390");
            page.click("text=By the lane");
            picture(page, "year-one-block-390");
            page.click("table a:has-text('r1')");
            page.selectOption("#rest", "GROWING");
            page.fill("#weak", "3, 9-10");
            page.fill("#dead", "7");
            page.click("text=Record the walk");
            page.waitForSelector("text=3 weak: 3, 9-10");
            assertThat(text(page, "main")).contains("3 weak: 3, 9-10").contains("1 dead: 7");
            picture(page, "row-390");
            assertThat(loaded(page).evaluate(FITS)).isEqualTo(true);
            page.click("ol.vine-row li:nth-child(3) a");
            page.fill("#shoots", "2");
            page.fill("#height", "14 in");
            page.click("main form button:has-text('Record')");
            assertThat(text(page, "main")).contains("2 / 36 cm").contains("weak");
            picture(page, "vine-390");
            page.fill("#note", "sprang from the second bud");
            page.setInputFiles("#photo", new FilePayload("vine.jpg", "image/jpeg", photo()));
            page.click("main form button:has-text('Record')");
            PlaywrightAssertions.assertThat(page.locator("ol.story img")).hasCount(1);
            until(page, "document.querySelector('ol.story img').naturalWidth > 0");
            picture(page, "vine-photo-390");
            assertThat(page.evaluate(FITS)).isEqualTo(true);
            page.setViewportSize(1280, 900);
            picture(page, "vine-photo-1280");
            page.setViewportSize(390, 844);
            page.navigate("/v/" + vineyard.slug() + "/rows/" + row + "/shoots");
            page.click("fieldset:has-text('Place 1') label:has-text('2') >> nth=0");
            picture(page, "shoots-390");
        }
        try (BrowserContext desk = context(1280)) {
            Page page = signedIn(desk, vineyard, Role.OWNER);
            for (String path : new String[] {
                "/year-one",
                "/year-one/B2",
                "/rows/" + row,
                "/rows/" + row + "/plant",
                "/year-one/B2/water?hot=7",
                "/year-one/B2/treatments",
                "/checklist",
                "/checklist/new",
                "/help/year-one"
            }) {
                page.navigate("/v/" + vineyard.slug() + path);
                assertThat(page.title()).as(path).isNotBlank();
                assertThat(loaded(page).evaluate(FITS)).as(path).isEqualTo(true);
                if (DRAWN.stream().anyMatch(path::contains)) {
                    picture(page, "desk" + path.replaceAll("[^a-z]+", "-").replaceAll(row.toString(), "row"));
                }
            }
        }
    }

    /** A picture of some green on brown. */
    private static byte[] photo() {
        BufferedImage image = new BufferedImage(400, 300, BufferedImage.TYPE_INT_RGB);
        Graphics2D pen = image.createGraphics();
        pen.setColor(new Color(0x6b4a2a));
        pen.fillRect(0, 200, 400, 100);
        pen.setColor(new Color(0x265c43));
        pen.fillOval(150, 60, 90, 160);
        pen.dispose();
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try {
            ImageIO.write(image, "jpg", out);
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
        return out.toByteArray();
    }
}
