package org.rootling.support;

import static org.assertj.core.api.Assertions.assertThat;

import com.microsoft.playwright.Browser;
import com.microsoft.playwright.BrowserContext;
import com.microsoft.playwright.BrowserType;
import com.microsoft.playwright.Page;
import com.microsoft.playwright.Playwright;
import com.microsoft.playwright.PlaywrightException;
import com.microsoft.playwright.options.Cookie;
import com.microsoft.playwright.options.LoadState;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Collection;
import java.util.List;
import java.util.Queue;
import java.util.concurrent.Callable;
import java.util.concurrent.ConcurrentLinkedQueue;
import java.util.concurrent.ExecutionException;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import java.util.concurrent.Future;
import java.util.function.BiConsumer;
import org.junit.jupiter.api.AfterAll;
import org.junit.jupiter.api.BeforeAll;
import org.junit.jupiter.api.TestInstance;
import org.rootling.Rootling;
import org.rootling.people.Role;
import org.springframework.boot.test.context.SpringBootTest;
import org.springframework.boot.test.web.server.LocalServerPort;
import org.springframework.context.annotation.Import;
import org.springframework.test.context.ContextConfiguration;

/**
 * A test through the real pages in Chromium. Chromium must be there (Debian's package, or the path in CHROMIUM): a test
 * that cannot run fails.
 */
@SpringBootTest(
        classes = Rootling.class,
        webEnvironment = SpringBootTest.WebEnvironment.RANDOM_PORT,
        properties = "rootling.setup-code=test-code")
@ContextConfiguration(initializers = TestDatabaseInitializer.class)
@Import(TestVineyards.class)
@TestInstance(TestInstance.Lifecycle.PER_CLASS)
public abstract class BrowserTest {

    @LocalServerPort
    protected int port;

    private static final List<String> ARGS = List.of(
            "--no-sandbox",
            "--disable-gpu",
            "--disable-quic",
            "--no-first-run",
            "--disable-background-networking",
            "--disable-component-update",
            "--disable-sync");

    private Playwright playwright;
    private Browser browser;

    @BeforeAll
    void startBrowser() {
        playwright = playwright();
        browser = launch(playwright);
    }

    @AfterAll
    void stopBrowser() {
        if (browser != null) {
            browser.close();
        }
        if (playwright != null) {
            playwright.close();
        }
    }

    /** A phone of 390 px, or a desk of 1280 px. */
    protected BrowserContext context(int width) {
        return context(width, true);
    }

    /** The same, with or without scripts. */
    protected BrowserContext context(int width, boolean scripts) {
        return browser.newContext(options(width, "en-GB").setJavaScriptEnabled(scripts));
    }

    /** The same, of somebody whose browser asks for this language. */
    protected BrowserContext context(int width, String language) {
        return browser.newContext(options(width, language));
    }

    private Browser.NewContextOptions options(int width, String language) {
        return new Browser.NewContextOptions()
                .setViewportSize(width, width < 600 ? 844 : 900)
                .setLocale(language)
                .setBaseURL("http://localhost:" + port);
    }

    /**
     * Does the same with each, in two browsers at a time that share the cookies given: what takes the browser long takes half
     * as long on two cores.
     */
    protected <T> void eachInTwoBrowsers(Collection<T> all, List<Cookie> cookies, BiConsumer<Page, T> work)
            throws ExecutionException, InterruptedException {
        Queue<T> left = new ConcurrentLinkedQueue<>(all);
        Callable<Void> hand = () -> {
            // Playwright is for one thread.
            try (Playwright own = playwright();
                    Browser one = launch(own);
                    BrowserContext context = one.newContext(options(1280, "en-GB"))) {
                context.addCookies(cookies);
                Page page = context.newPage();
                for (T next = left.poll(); next != null; next = left.poll()) {
                    work.accept(page, next);
                }
            }
            return null;
        };
        ExecutorService hands = Executors.newFixedThreadPool(2);
        try {
            for (Future<Void> done : hands.invokeAll(List.of(hand, hand))) {
                done.get();
            }
        } finally {
            hands.shutdownNow();
        }
    }

    private static Playwright playwright() {
        return Playwright.create(
                new Playwright.CreateOptions().setEnv(java.util.Map.of("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1")));
    }

    private static Browser launch(Playwright playwright) {
        return playwright
                .chromium()
                .launch(new BrowserType.LaunchOptions()
                        .setExecutablePath(chromium())
                        .setArgs(ARGS));
    }

    private static Path chromium() {
        Path path = Path.of(System.getenv().getOrDefault("CHROMIUM", "/usr/bin/chromium"));
        if (!Files.isExecutable(path)) {
            throw new IllegalStateException(
                    "Browser tests need Chromium at " + path + " (Debian: apt-get install chromium)");
        }
        return path;
    }

    /** The same phone with a touch screen. */
    protected BrowserContext touch(int width) {
        return browser.newContext(new Browser.NewContextOptions()
                .setViewportSize(width, 844)
                .setHasTouch(true)
                .setLocale("en-GB")
                .setBaseURL("http://localhost:" + port));
    }

    /** A phone whose storage stays in a folder when it is closed, as on a real one. */
    protected BrowserContext phone(Path storage, int signalPort) {
        return playwright
                .chromium()
                .launchPersistentContext(
                        storage,
                        new BrowserType.LaunchPersistentContextOptions()
                                .setExecutablePath(chromium())
                                .setArgs(ARGS)
                                .setViewportSize(390, 844)
                                .setLocale("en-GB")
                                .setBaseURL("http://localhost:" + signalPort));
    }

    /** A page of someone who has signed in with their password. */
    protected Page signedIn(BrowserContext context, TestVineyard vineyard, Role role) {
        Page page = context.newPage();
        page.navigate("/sign-in");
        page.fill("#email", vineyard.email(role));
        page.fill("#password", TestVineyards.PASSWORD);
        page.click("main button");
        page.waitForURL("**/v/**");
        return page;
    }

    /** What a reader sees there, once the whole page has come: a click returns when its answer begins. */
    protected static String text(Page page, String selector) {
        return loaded(page).innerText(selector);
    }

    /** The page, once the whole of it has come. */
    protected static Page loaded(Page page) {
        page.waitForLoadState(LoadState.DOMCONTENTLOADED);
        return page;
    }

    /**
     * Waits until an expression is true on the page. Asked from here again and again: the policy of the pages lets no text
     * be run in them as a function that waits.
     */
    protected static void until(Page page, String expression) {
        for (int i = 0; i < 300 && !holds(page, expression); i++) {
            page.waitForTimeout(100);
        }
        assertThat(holds(page, expression)).as(expression).isTrue();
    }

    private static boolean holds(Page page, String expression) {
        try {
            return Boolean.TRUE.equals(page.evaluate(expression));
        } catch (PlaywrightException movingOn) {
            return false;
        }
    }

    /** Waits until nothing waits on the phone any more. */
    protected static void outboxEmpty(Page page) {
        until(page, "async () => typeof Outbox !== 'undefined' && (await Outbox.all()).length === 0");
    }

    /** Keeps a picture under target/screenshots, to be looked at. */
    protected static void picture(Page page, String name) {
        page.screenshot(new Page.ScreenshotOptions()
                .setFullPage(true)
                .setPath(Path.of("target", "screenshots", name + ".png")));
    }

    /** Pictures at the width of a desk and of the phone, to be looked at; no sideways scrolling; accessibility rules. */
    protected static void lookAt(Page page, String name) {
        loaded(page);
        for (int width : new int[] {1280, 390}) {
            page.setViewportSize(width, 844);
            picture(page, name + "-" + width);
            assertThat((Boolean) page.evaluate(
                            "document.documentElement.scrollWidth <= document.documentElement.clientWidth"))
                    .as(name + " scrolls sideways")
                    .isTrue();
        }
        assertThat(Axe.violations(page)).as(name).isEmpty();
    }
}
