package org.rootling.ground.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import com.google.gson.JsonArray;
import com.google.gson.JsonObject;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.CDPSession;
import com.microsoft.playwright.Locator;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.options.BoundingBox;
import com.microsoft.playwright.options.Geolocation;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Corners moved on the drawing by mouse, finger and keyboard; lengths, angles and area follow at once. */
class CornersBrowserTest extends BrowserTest {

    @Autowired
    TestVineyards vineyards;

    @Test
    void cornersAreMovedByKeyboardMouseAndFinger() {
        TestVineyard vineyard = vineyards.fresh();
        try (BrowserContext desk = context(1280)) {
            Page page = signedIn(desk, vineyard, Role.LEAD);
            page.navigate("/v/" + vineyard.slug() + "/blocks/new");
            page.fill("#boundary", "0 0\n60 0\n60 40\n0 40");
            assertThat(area(page)).isEqualTo(2400);
            assertThat(text(page, ".corners-sides")).contains("60.00 m", "40.00 m", "90.0°");

            page.focus("[data-corner='2']");
            page.keyboard().press("ArrowRight");
            page.keyboard().press("ArrowRight");
            page.keyboard().press("Shift+ArrowUp");
            // shoelace over (0,0) (60,0) (62,40.1) (0,40): (60 * 40.1 + 62 * 40) / 2
            assertThat(page.inputValue("#boundary")).isEqualTo("0 0\n60 0\n62 40.1\n0 40");
            assertThat(area(page)).isCloseTo(2443, within(0.1));
            assertThat(page.evaluate("document.activeElement.dataset.corner")).isEqualTo("2");

            double[] before = corner(page, 0);
            page.locator("[data-corner='0']").scrollIntoViewIfNeeded();
            BoundingBox knob = page.locator("[data-corner='0']").boundingBox();
            page.mouse().move(knob.x + knob.width / 2, knob.y + knob.height / 2);
            page.mouse().down();
            page.mouse().move(knob.x + knob.width / 2 + 60, knob.y + knob.height / 2 + 30);
            double during = area(page);
            page.mouse().up();
            double[] after = corner(page, 0);
            assertThat(after[0]).isGreaterThan(before[0] + 1);
            assertThat(after[1]).isLessThan(before[1] - 0.5);
            assertThat(during).isCloseTo(area(page), within(0.2)).isNotCloseTo(2443, within(5.0));
            picture(page, "ground-corners-1280");
        }
    }

    @Test
    void aFingerMovesACornerAndCrossingSidesAreSaid() {
        TestVineyard vineyard = vineyards.fresh();
        try (BrowserContext phone = touch(390)) {
            Page page = signedIn(phone, vineyard, Role.LEAD);
            page.navigate("/v/" + vineyard.slug() + "/blocks/new");
            page.fill("#boundary", "0 0\n60 0\n60 40\n0 40");
            Locator knob = page.locator("[data-corner='2']");
            knob.scrollIntoViewIfNeeded();
            BoundingBox box = knob.boundingBox();
            assertThat(Math.min(box.width, box.height))
                    .as("a corner is large enough for a thumb")
                    .isGreaterThanOrEqualTo(24);
            double scrolled = ((Number) page.evaluate("scrollY")).doubleValue();
            finger(page, box.x + box.width / 2, box.y + box.height / 2, -60, 45);
            double[] moved = corner(page, 2);
            assertThat(moved[0]).isLessThan(59);
            assertThat(moved[1]).isLessThan(39);
            assertThat(((Number) page.evaluate("scrollY")).doubleValue()).isEqualTo(scrolled);
            picture(page, "ground-corners-390");
            page.fill("#boundary", "0 0\n60 40\n60 0\n0 40");
            assertThat(text(page, ".corners-area")).isEqualTo("The sides cross.");
        }
    }

    @Test
    void cornersAreWalkedWithThePhonesPosition() {
        TestVineyard vineyard = vineyards.fresh();
        double[][] corners = {{50.8, 0.1}, {50.8, 0.1009}, {50.8005, 0.1009}, {50.8005, 0.1}};
        try (BrowserContext phone = context(390)) {
            phone.grantPermissions(
                    List.of("geolocation"),
                    new BrowserContext.GrantPermissionsOptions().setOrigin("http://localhost:" + port));
            phone.setGeolocation(new Geolocation(50.8, 0.1).setAccuracy(5));
            Page page = signedIn(phone, vineyard, Role.LEAD);
            page.navigate("/v/" + vineyard.slug() + "/blocks/walk");
            for (double[] corner : corners) {
                page.click(".walk-take");
                for (int fix = 0; fix < 30 && page.locator(".walk-take").isDisabled(); fix++) {
                    phone.setGeolocation(
                            new Geolocation(corner[0] + (fix % 2) * 1e-7, corner[1]).setAccuracy(4 + fix % 3));
                    page.waitForTimeout(60);
                }
                page.waitForCondition(() -> !page.locator(".walk-take").isDisabled());
            }
            List<String> taken = page.inputValue("#fixes").lines().toList();
            assertThat(taken).hasSize(4);
            assertThat(taken.get(2)).startsWith("0.1009000 50.800500");
            assertThat(text(page, ".walk-said")).contains("m²", "±", "vines");
            picture(page, "ground-walk-390");
            page.fill("#code", "W1");
            page.fill("#name", "Walked");
            page.locator("main form.sheet button").click();
            assertThat(text(page, "main")).contains("walked with a phone", "the area is known to ±");
        }
    }

    /** A real touch, begun, moved and ended, as the screen would report it. */
    private static void finger(Page page, double x, double y, double right, double down) {
        CDPSession screen = page.context().newCDPSession(page);
        screen.send("Input.dispatchTouchEvent", touch("touchStart", x, y));
        for (int i = 1; i <= 5; i++) {
            screen.send("Input.dispatchTouchEvent", touch("touchMove", x + right * i / 5, y + down * i / 5));
        }
        JsonObject end = new JsonObject();
        end.addProperty("type", "touchEnd");
        end.add("touchPoints", new JsonArray());
        screen.send("Input.dispatchTouchEvent", end);
    }

    private static JsonObject touch(String type, double x, double y) {
        JsonObject point = new JsonObject();
        point.addProperty("x", x);
        point.addProperty("y", y);
        JsonArray points = new JsonArray();
        points.add(point);
        JsonObject event = new JsonObject();
        event.addProperty("type", type);
        event.add("touchPoints", points);
        return event;
    }

    private static double area(Page page) {
        return Double.parseDouble(
                text(page, ".corners-area").replaceAll(" .*", "").replace(",", ""));
    }

    private static double[] corner(Page page, int i) {
        String[] line = page.inputValue("#boundary").split("\n")[i].split(" ");
        return new double[] {Double.parseDouble(line[0]), Double.parseDouble(line[1])};
    }
}
