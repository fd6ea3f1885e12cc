package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.net.URI;
import java.net.URLEncoder;
import java.net.http.HttpClient;
import java.net.http.HttpRequest;
import java.net.http.HttpResponse;
import java.nio.charset.StandardCharsets;
import java.sql.Connection;
import java.sql.ResultSet;
import java.sql.Statement;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.concurrent.atomic.AtomicBoolean;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jsoup.Jsoup;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.Test;
import org.rootling.people.domain.Secrets;
import org.rootling.people.domain.TestCodes;
import org.rootling.support.BrowserTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestLog;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Someone has several sessions, loses a phone, or someone else has their password. */
class SafetyTest extends BrowserTest {

    private static final String NEW_PASSWORD = "slow ripening under nets ";
    private static final String SIGN_OUT = "/account/safety/sessions/end";

    @Autowired
    TestVineyards vineyards;

    private final HttpClient client = HttpClient.newHttpClient();

    @Test
    void everySessionIsListedAndCanBeEndedFromAnother() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.LEAD);
        Jar desk = signIn(email, "Mozilla/5.0 (X11; Linux x86_64; rv:140.0) Gecko/20100101 Firefox/140.0");
        Jar phone = signIn(email, "Mozilla/5.0 (iPhone; CPU iPhone OS 18_0) Version/18.0 Safari/604.1");

        Document page = open(desk, "/account/safety");

        assertThat(page.select("main table tbody tr")).hasSize(2);
        assertThat(page.select("main table").text()).contains("Firefox, Linux", "Safari, iOS", "this one");
        String which = page.select("main table input[name=which]").attr("value");
        assertThat(which).isNotEmpty().doesNotContain(phone.cookie.substring("rootling=".length()));
        assertThat(send(desk, SIGN_OUT, "which", which, "present", "a guess")
                        .select("#out-present-error")
                        .text())
                .as("not by who finds the screen open")
                .contains("not your present password");
        assertThat(status(phone, "/account")).isEqualTo(200);
        send(desk, SIGN_OUT, "which", which, "present", TestVineyards.PASSWORD);
        assertThat(status(phone, "/account")).isEqualTo(302);
        assertThat(status(desk, "/account")).isEqualTo(200);
    }

    @Test
    void signingOutEverywhereElseLeavesOnlyThisSession() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.LEAD);
        Jar one = signIn(email, "");
        Jar two = signIn(email, "");
        Jar three = signIn(email, "");
        Jar stranger = signIn(vineyard.email(Role.HELPER), "");

        send(one, SIGN_OUT, "which", "others", "present", TestVineyards.PASSWORD);

        assertThat(status(one, "/account")).isEqualTo(200);
        assertThat(status(two, "/account")).isEqualTo(302);
        assertThat(status(three, "/account")).isEqualTo(302);
        assertThat(status(stranger, "/account")).isEqualTo(200);
    }

    @Test
    void whoeverRunsTheServerEndsTheSessionsOfOneOrOfAll() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Jar lead = signIn(vineyard.email(Role.LEAD), "");
        Jar helper = signIn(vineyard.email(Role.HELPER), "");
        assertThat(operator(2, "sign-out")).contains("usage: sign-out ADDRESS");
        assertThat(operator(0, "sign-out", "nobody@vines.example")).contains("Ended sessions: 0");
        assertThat(operator(0, "sign-out", vineyard.email(Role.LEAD))).contains("Ended sessions: 1");
        assertThat(status(lead, "/account")).isEqualTo(302);
        assertThat(status(helper, "/account")).isEqualTo(200);
        operator(0, "sign-out", "everyone");
        assertThat(status(helper, "/account")).isEqualTo(302);
    }

    private static String operator(int expected, String... words) {
        List<String> arguments = new ArrayList<>(List.of(words));
        TestDatabase.properties().forEach((key, value) -> arguments.add("--" + key + "=" + value));
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        int code = SignOutCommand.run(
                arguments.toArray(String[]::new), new PrintStream(out, true, StandardCharsets.UTF_8));
        assertThat(code).as(out.toString(StandardCharsets.UTF_8)).isEqualTo(expected);
        return out.toString(StandardCharsets.UTF_8);
    }

    @Test
    void aStrangersGuessesMakeNobodyWaitOnTheirOwnPhone() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.OWNER);
        Jar phone = signIn(email, "");
        Jar colleague = signIn(vineyard.email(Role.LEAD), "");
        Jar stranger = new Jar("");
        open(stranger, "/sign-in");
        for (int i = 0; i < 5; i++) {
            assertThat(attempt(stranger, email, "guess " + i)).endsWith("?failed");
        }
        assertThat(attempt(stranger, email, TestVineyards.PASSWORD)).endsWith("?wait");
        assertThat(attempt(with(colleague.known), email, TestVineyards.PASSWORD))
                .as("known for somebody else")
                .endsWith("?wait");
        assertThat(attempt(with("rootling-known=AAAA"), email, TestVineyards.PASSWORD))
                .as("no cookie of ours")
                .endsWith("?wait");

        assertThat(attempt(with(phone.known), email.toUpperCase(Locale.ROOT), TestVineyards.PASSWORD))
                .endsWith("/");
        for (int i = 0; i < 5; i++) {
            assertThat(attempt(with(phone.known), email, "guess " + i)).endsWith("?failed");
        }
        assertThat(attempt(with(phone.known), email, TestVineyards.PASSWORD))
                .as("who has the phone does not guess without end either")
                .endsWith("?wait");
        // What was guessed from here shall not slow down the others who sign in from here.
        try (Connection db = TestDatabase.asOwner();
                Statement statement = db.createStatement()) {
            statement.execute("delete from sign_in_throttle");
        }
    }

    private Jar with(String known) throws Exception {
        Jar jar = new Jar("");
        jar.known = known;
        open(jar, "/sign-in");
        return jar;
    }

    private String attempt(Jar jar, String email, String password) throws Exception {
        return raw(jar, "/sign-in", "email", email, "password", password)
                .headers()
                .firstValue("Location")
                .orElse("");
    }

    @Test
    void aNewPasswordEndsAllOtherSessions() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Jar mine = signIn(vineyard.email(Role.LEAD), "");
        Jar theirs = signIn(vineyard.email(Role.LEAD), "");

        send(mine, "/account/password", "present", TestVineyards.PASSWORD, "password", NEW_PASSWORD);

        assertThat(status(mine, "/account")).isEqualTo(200);
        assertThat(status(theirs, "/account")).isEqualTo(302);
        // A password is what was typed, to the last blank.
        for (String typed : new String[] {NEW_PASSWORD, NEW_PASSWORD.strip()}) {
            Jar jar = new Jar("");
            open(jar, "/sign-in");
            String to = raw(jar, "/sign-in", "email", vineyard.email(Role.LEAD), "password", typed)
                    .headers()
                    .firstValue("Location")
                    .orElse("");
            assertThat(to.endsWith("failed")).as("'" + typed + "'").isNotEqualTo(typed.equals(NEW_PASSWORD));
        }
    }

    @Test
    void aCommonOrTransparentPasswordIsRefused() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Jar mine = signIn(vineyard.email(Role.LEAD), "");
        for (String weak : new String[] {
            "qwertyuiop123456", "P@ssw0rdP@ssw0rd", "michaelmichael", "Lew Lead 1234", "dragondragon1", "121212121212"
        }) {
            Document answer = send(mine, "/account/password", "present", TestVineyards.PASSWORD, "password", weak);
            assertThat(answer.select(".error").text()).as(weak).contains("easy to guess");
        }
    }

    @Test
    void withASecondFactorThePasswordAloneOpensNothing() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.OWNER);
        Jar set = signIn(email, "");
        String secret = begin(set);
        assertThat(send(set, "/account/safety/second-factor/confirm", "code", "000000")
                        .select(".error")
                        .text())
                .contains("not right");
        String first = TestCodes.at(secret, Instant.now());
        assertThat(raw(set, "/account/safety/second-factor/confirm", "code", first)
                        .statusCode())
                .isEqualTo(302);

        Jar half = half(email);

        for (String closed : new String[] {"/account", "/v/" + vineyard.slug() + "/", "/vineyards"}) {
            assertThat(status(half, closed)).as(closed).isEqualTo(302);
        }
        assertThat(send(half, "/sign-in/code", "code", first).select(".error").text())
                .as("used already")
                .contains("used already");
        Jar whole = whole(half, TestCodes.at(secret, Instant.now().plusSeconds(30)));
        assertThat(whole.cookie).isNotEqualTo(half.cookie);
        assertThat(status(whole, "/v/" + vineyard.slug() + "/")).isEqualTo(200);
        assertThat(status(half, "/account")).isEqualTo(302);
    }

    @Test
    void aCodeOnPaperOpensOnceAndNoSecretIsReadableInTheDatabase() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.OWNER);
        Jar set = signIn(email, "");
        String secret = begin(set);
        raw(set, "/account/safety/second-factor/confirm", "code", TestCodes.at(secret, Instant.now()));
        List<String> paper = open(set, "/account/safety").select(".codes li").eachText();
        assertThat(paper).hasSize(10);
        String code = paper.get(3);

        assertThat(status(whole(half(email), code.toUpperCase(Locale.ROOT)), "/account"))
                .isEqualTo(200);
        assertThat(send(half(email), "/sign-in/code", "code", code)
                        .select(".error")
                        .text())
                .contains("used already");
        assertThat(open(set, "/account/safety").text()).contains("9 of the codes");
        try (Connection db = TestDatabase.asOwner();
                Statement statement = db.createStatement();
                ResultSet rows = statement.executeQuery(
                        "select (select string_agg(encode(secret, 'escape'), '') from second_factor)"
                                + " || (select string_agg(code_hash, '') from recovery_code)")) {
            rows.next();
            assertThat(rows.getString(1)).doesNotContain(code.replace("-", "")).doesNotContain(secret.replace(" ", ""));
        }
    }

    @Test
    void guessingCodesIsSlowedDown() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.OWNER);
        Jar set = signIn(email, "");
        String secret = begin(set);
        raw(set, "/account/safety/second-factor/confirm", "code", TestCodes.at(secret, Instant.now()));
        Jar half = half(email);
        for (int i = 0; i < 5; i++) {
            send(half, "/sign-in/code", "code", "11111" + i);
        }
        assertThat(send(
                                half,
                                "/sign-in/code",
                                "code",
                                TestCodes.at(secret, Instant.now().plusSeconds(30)))
                        .select(".error")
                        .text())
                .contains("Too many");
    }

    /** OWASP ASVS 5.0.0, 7.2.4: a session that was planted before signing in is not the one afterwards. */
    @Test
    void signingInMakesANewSessionAndTheOldOneOpensNothing() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Jar jar = new Jar("");
        open(jar, "/sign-in");
        Jar planted = new Jar("");
        planted.cookie = jar.cookie;
        assertThat(planted.cookie).isNotEmpty();
        raw(jar, "/sign-in", "email", vineyard.email(Role.LEAD), "password", TestVineyards.PASSWORD);
        assertThat(jar.cookie).isNotEqualTo(planted.cookie);
        assertThat(status(jar, "/account")).isEqualTo(200);
        assertThat(status(planted, "/account")).isEqualTo(302);
    }

    /** The session made for a script would take the place of the one that a sign-in has just given the browser. */
    @Test
    void aScriptThatComesWithoutASessionIsGivenNone() throws Exception {
        String home = "http://localhost:" + port + "/v/" + vineyards.fresh().slug();
        HttpRequest.Builder page = HttpRequest.newBuilder(URI.create(home + "/my-day"));
        HttpResponse<String> read =
                client.send(page.copy().header("Sec-Fetch-Mode", "cors").build(), HttpResponse.BodyHandlers.ofString());
        HttpResponse<String> opened = client.send(
                page.copy().header("Sec-Fetch-Mode", "navigate").build(), HttpResponse.BodyHandlers.ofString());
        HttpResponse<String> sent = client.send(
                HttpRequest.newBuilder(URI.create(home + "/outbox"))
                        .header("Sec-Fetch-Mode", "cors")
                        .header("Content-Type", "application/json")
                        .POST(HttpRequest.BodyPublishers.ofString("{}"))
                        .build(),
                HttpResponse.BodyHandlers.ofString());
        assertThat(read.statusCode()).isEqualTo(302);
        assertThat(sent.statusCode()).isEqualTo(401);
        assertThat(read.headers().firstValue("Set-Cookie")).isEmpty();
        assertThat(sent.headers().firstValue("Set-Cookie")).isEmpty();
        assertThat(opened.headers().firstValue("Set-Cookie")).isPresent();
    }

    @Test
    void whatElseIsAskedForWhileSigningInDoesNotSignOutAgain() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        for (int round = 0; round < 5; round++) {
            Jar jar = new Jar("");
            open(jar, "/sign-in");
            AtomicBoolean done = new AtomicBoolean();
            List<Thread> others = new ArrayList<>();
            for (int n = 0; n < 4; n++) {
                Jar same = new Jar("");
                same.cookie = jar.cookie;
                others.add(new Thread(() -> {
                    while (!done.get()) {
                        try {
                            status(same, "/forgotten");
                        } catch (Exception broken) {
                            throw new IllegalStateException(broken);
                        }
                    }
                }));
            }
            others.forEach(Thread::start);
            raw(jar, "/sign-in", "email", vineyard.email(Role.LEAD), "password", TestVineyards.PASSWORD);
            done.set(true);
            for (Thread other : others) {
                other.join();
            }
            assertThat(status(jar, "/account")).isEqualTo(200);
        }
    }

    @Test
    void guessingThePresentPasswordAtAScreenLeftOpenIsSlowedDown() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Jar found = signIn(vineyard.email(Role.OWNER), "");
        for (int i = 0; i < 5; i++) {
            assertThat(send(found, "/account/password", "present", "guess " + i, "password", NEW_PASSWORD)
                            .select(".error")
                            .text())
                    .contains("present password");
        }
        for (String form : new String[] {"/account/password", "/account/safety/delete"}) {
            assertThat(send(found, form, "present", TestVineyards.PASSWORD, "password", NEW_PASSWORD)
                            .select(".error")
                            .text())
                    .contains("Too many");
        }
        // The door counts for itself: the person is not locked out by it.
        assertThat(status(signIn(vineyard.email(Role.OWNER), ""), "/account")).isEqualTo(200);
    }

    /** A form whose work is taken back when it is refused: the count of wrong passwords stays. */
    @Test
    void guessesAreCountedAlsoWhereTheFormsWorkIsTakenBack() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        Jar found = signIn(vineyard.email(Role.OWNER), "");
        String path = "/v/" + vineyard.slug() + "/delete";
        Document page = open(found, path);
        for (int i = 0; i < 6; i++) {
            String once = page.select("main input[name=once]").attr("value");
            assertThat(once).hasSize(36);
            page = send(found, path, "once", once, "name", "x", "present", "guess " + i);
        }
        assertThat(page.select(".error").text()).contains("Too many");
    }

    /** Tomcat notes values, cookies and addresses that it cannot read, word for word, unless it is told not to. */
    @Test
    void whatTheServerItselfCannotReadIsNotWrittenDown() throws Exception {
        try (TestLog log = TestLog.open()) {
            for (String request : new String[] {
                "GET /join/Secret|x HTTP/1.1\r\n",
                "GET /sign-in?email=Secret%zz HTTP/1.1\r\n",
                "GET /sign-in HTTP/1.1\r\nCookie: rootling=\"Secret\u0001; b=\u0002\r\n",
                "GET /sign-in HTTP/1.1\r\nSecret header: x\r\n",
                "POST /sign-in HTTP/1.1\r\nContent-Type: application/x-www-form-urlencoded\r\nContent-Length: 18\r\n"
            }) {
                try (java.net.Socket socket = new java.net.Socket("localhost", port)) {
                    socket.setSoTimeout(20_000);
                    socket.getOutputStream()
                            .write((request + "Host: localhost\r\nConnection: close\r\n\r\npassword=Secret%zz")
                                    .getBytes(StandardCharsets.ISO_8859_1));
                    assertThat(new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1))
                            .as(request)
                            .startsWith("HTTP/1.1 ")
                            .doesNotStartWith("HTTP/1.1 5");
                }
            }
            assertThat(String.join("\n", log.lines())).doesNotContain("Secret");
        }
    }

    /** What Tomcat answers before the program is asked says neither what it is nor what went wrong inside. */
    @Test
    void aRequestThatIsNoneIsAnsweredWithoutNamesOfLibraries() throws Exception {
        for (String line : new String[] {"GET /a|b<c> HTTP/1.1", "GET /%zz HTTP/1.1", "NONSENSE", "GET / HTTP/9.9"}) {
            try (java.net.Socket socket = new java.net.Socket("localhost", port)) {
                socket.setSoTimeout(20_000);
                socket.getOutputStream()
                        .write((line + "\r\nHost: localhost\r\nConnection: close\r\n\r\n")
                                .getBytes(StandardCharsets.US_ASCII));
                String answer = new String(socket.getInputStream().readAllBytes(), StandardCharsets.ISO_8859_1);
                assertThat(answer).as(line).startsWith("HTTP/1.1 ").doesNotContain("HTTP/1.1 200");
                assertThat(answer)
                        .as(line)
                        .doesNotContainIgnoringCase("tomcat")
                        .doesNotContain("Exception", "at org.", "at java.");
            }
        }
    }

    @Test
    void turningItOffNeedsThePassword() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.OWNER);
        Jar set = signIn(email, "");
        String secret = begin(set);
        raw(set, "/account/safety/second-factor/confirm", "code", TestCodes.at(secret, Instant.now()));

        assertThat(send(set, "/account/safety/second-factor/end", "present", "not it at all")
                        .select(".error")
                        .text())
                .contains("present password");
        assertThat(half(email)).isNotNull();
        send(set, "/account/safety/second-factor/end", "present", TestVineyards.PASSWORD);
        assertThat(status(signIn(email, ""), "/account")).isEqualTo(200);
    }

    @Test
    void whoForgotThePasswordIsLetInOnceByALinkThatEndsAllSessions() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.LEAD);
        Jar old = signIn(email, "");
        way(email, "an-old-secret", "-1 minute");
        way(email, "a-good-secret", "1 hour");
        for (String closed : new String[] {"an-old-secret", "never-made"}) {
            assertThat(open(new Jar(""), "/way-in/" + closed).select("main").text())
                    .as(closed)
                    .contains("already used, or is too old");
        }
        Jar phone = new Jar("");
        assertThat(open(phone, "/way-in/a-good-secret").select("main").text()).contains(email);
        assertThat(raw(phone, "/way-in/a-good-secret", "password", "dragondragon1")
                        .body())
                .contains("easy to guess");

        assertThat(raw(phone, "/way-in/a-good-secret", "password", NEW_PASSWORD)
                        .headers()
                        .firstValue("Location"))
                .hasValueSatisfying(to -> assertThat(to).endsWith("/sign-in?changed"));

        assertThat(status(old, "/account")).isEqualTo(302);
        assertThat(raw(phone, "/way-in/a-good-secret", "password", NEW_PASSWORD + "2")
                        .body())
                .contains("already used, or is too old");
        open(phone, "/sign-in");
        assertThat(raw(phone, "/sign-in", "email", email, "password", NEW_PASSWORD)
                        .headers()
                        .firstValue("Location"))
                .hasValueSatisfying(to -> assertThat(to).doesNotContain("failed"));
    }

    private static void way(String email, String secret, String until) throws Exception {
        try (Connection db = TestDatabase.asOwner();
                Statement statement = db.createStatement()) {
            statement.execute("insert into way_in (token_hash, account_id, expires_at) select '" + Secrets.hash(secret)
                    + "', id, now() + interval '" + until + "' from account where email = '" + email + "'");
        }
    }

    @Test
    void whoAsksForALinkIsToldNothingOfAccountsAndNotOften() throws Exception {
        Jar jar = new Jar("");
        // No mail server is set here: the page says who can help.
        assertThat(open(jar, "/forgotten").select("main").text()).contains("Ask whoever runs it");
        String known = vineyards.fresh().email(Role.OWNER);
        for (String email : new String[] {known, "nobody" + known}) {
            open(jar, "/sign-in");
            int asked = 0;
            while (asked < 50
                    && raw(jar, "/forgotten", "email", email)
                            .headers()
                            .firstValue("Location")
                            .orElse("")
                            .endsWith("?sent")) {
                asked++;
            }
            assertThat(asked).as(email).isEqualTo(5);
        }
        // What was asked for from here shall not slow down the others who sign in from here.
        try (Connection db = TestDatabase.asOwner();
                Statement statement = db.createStatement()) {
            statement.execute("delete from sign_in_throttle");
        }
    }

    @Test
    void anOwnerWhoHasACodeAsksOneOfLeadsToo() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String home = "/v/" + vineyard.slug() + "/";
        Jar owner = signIn(vineyard.email(Role.OWNER), "");
        Jar lead = signIn(vineyard.email(Role.LEAD), "");
        Jar helper = signIn(vineyard.email(Role.HELPER), "");
        assertThat(send(owner, home + "people/codes", "required", "true").text())
                .contains("your own account first");
        String secret = begin(owner);
        raw(owner, "/account/safety/second-factor/confirm", "code", TestCodes.at(secret, Instant.now()));
        assertThat(status(lead, home)).isEqualTo(200);

        assertThat(raw(owner, home + "people/codes", "required", "true").statusCode())
                .isEqualTo(302);

        HttpResponse<String> sent =
                client.send(lead.request(at(home)).GET().build(), HttpResponse.BodyHandlers.ofString());
        assertThat(sent.statusCode()).isEqualTo(302);
        assertThat(sent.headers().firstValue("Location"))
                .hasValueSatisfying(to -> assertThat(to).contains("/account/safety?needed"));
        assertThat(open(lead, "/account/safety?needed").select("main").text())
                .contains("asks owners and leads of the vineyard for a code");
        assertThat(status(helper, home)).isEqualTo(200);
        assertThat(status(owner, home)).isEqualTo(200);
        assertThat(byToken(vineyard.token(Role.LEAD))).isEqualTo(403);
        assertThat(byToken(vineyard.token(Role.HELPER))).isEqualTo(200);
        String leads = begin(lead);
        raw(lead, "/account/safety/second-factor/confirm", "code", TestCodes.at(leads, Instant.now()));
        assertThat(status(lead, home)).isEqualTo(200);
        assertThat(byToken(vineyard.token(Role.LEAD))).isEqualTo(200);
    }

    private int byToken(String token) throws Exception {
        return client.send(
                        HttpRequest.newBuilder(at("/api/v1/lots"))
                                .header("Authorization", "Bearer " + token)
                                .build(),
                        HttpResponse.BodyHandlers.discarding())
                .statusCode();
    }

    private String begin(Jar session) throws Exception {
        send(session, "/account/safety/second-factor/begin");
        Document page = open(session, "/account/safety");
        assertThat(page.select("svg.qr path").attr("d")).hasSizeGreaterThan(1000);
        return page.select("#second-factor code").text();
    }

    /** Signs in with the password. */
    private Jar signIn(String email, String agent) throws Exception {
        Jar jar = new Jar(agent);
        assertThat(password(jar, email).headers().firstValue("Location").orElse(""))
                .endsWith("/")
                .doesNotContain("code");
        return jar;
    }

    /** Gives the right password where a code is still missing. */
    private Jar half(String email) throws Exception {
        Jar jar = new Jar("");
        assertThat(password(jar, email).headers().firstValue("Location"))
                .hasValueSatisfying(to -> assertThat(to).endsWith("/sign-in/code"));
        return jar;
    }

    private HttpResponse<String> password(Jar jar, String email) throws Exception {
        open(jar, "/sign-in");
        return raw(jar, "/sign-in", "email", email, "password", TestVineyards.PASSWORD);
    }

    /** Gives the code; what was the session before is kept aside. */
    private Jar whole(Jar half, String code) throws Exception {
        Jar whole = new Jar("");
        whole.cookie = half.cookie;
        whole.csrf = half.csrf;
        open(whole, "/sign-in/code");
        assertThat(raw(whole, "/sign-in/code", "code", code).statusCode()).isEqualTo(302);
        return whole;
    }

    private Document open(Jar jar, String path) throws Exception {
        HttpResponse<String> answer =
                jar.keep(client.send(jar.request(at(path)).GET().build(), HttpResponse.BodyHandlers.ofString()));
        return Jsoup.parse(answer.body());
    }

    private int status(Jar jar, String path) throws Exception {
        return client.send(jar.request(at(path)).GET().build(), HttpResponse.BodyHandlers.discarding())
                .statusCode();
    }

    private Document send(Jar jar, String path, String... fields) throws Exception {
        return Jsoup.parse(raw(jar, path, fields).body());
    }

    private HttpResponse<String> raw(Jar jar, String path, String... fields) throws Exception {
        if (jar.csrf.isEmpty()) {
            open(jar, "/account/safety");
        }
        if (jar.csrf.isEmpty()) {
            open(jar, "/sign-in/code");
        }
        StringBuilder form = new StringBuilder("_csrf=" + encoded(jar.csrf));
        for (int i = 0; i < fields.length; i += 2) {
            form.append('&').append(fields[i]).append('=').append(encoded(fields[i + 1]));
        }
        return jar.keep(client.send(
                jar.request(at(path))
                        .header("Content-Type", "application/x-www-form-urlencoded")
                        .POST(HttpRequest.BodyPublishers.ofString(form.toString()))
                        .build(),
                HttpResponse.BodyHandlers.ofString()));
    }

    private URI at(String path) {
        return URI.create("http://localhost:" + port + path);
    }

    private static String encoded(String text) {
        return URLEncoder.encode(text, StandardCharsets.UTF_8);
    }

    /** One browser's cookie and form token. */
    private static final class Jar {
        private final String agent;
        private String cookie = "";
        private String known = "";
        private String csrf = "";

        Jar(String agent) {
            this.agent = agent;
        }

        HttpRequest.Builder request(URI to) {
            HttpRequest.Builder request = HttpRequest.newBuilder(to).header("Accept", "text/html");
            String cookies = Stream.of(cookie, known).filter(c -> !c.isEmpty()).collect(Collectors.joining("; "));
            if (!cookies.isEmpty()) {
                request.header("Cookie", cookies);
            }
            return agent.isEmpty() ? request : request.header("User-Agent", agent);
        }

        HttpResponse<String> keep(HttpResponse<String> answer) {
            for (String set : answer.headers().allValues("Set-Cookie")) {
                if (set.startsWith("rootling=")) {
                    assertThat(set)
                            .as("outlasts the browser's window, or ends")
                            .containsAnyOf("; Max-Age=5184000;", "rootling=; Max-Age=0;");
                    cookie = set.substring(0, set.indexOf(';'));
                    csrf = "";
                }
                if (set.startsWith("rootling-known=")) {
                    assertThat(set).contains("; HttpOnly", "; SameSite=Lax", "; Path=/;");
                    known = set.substring(0, set.indexOf(';'));
                }
            }
            String token =
                    Jsoup.parse(answer.body()).select("input[name=_csrf]").attr("value");
            if (!token.isEmpty()) {
                csrf = token;
            }
            return answer;
        }
    }
}
