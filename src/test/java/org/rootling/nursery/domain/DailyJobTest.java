package org.rootling.nursery.domain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.internet.MimeMessage;
import java.sql.Connection;
import java.sql.SQLException;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZoneId;
import java.time.ZoneOffset;
import java.time.zone.ZoneOffsetTransition;
import java.util.Arrays;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.TreeMap;
import org.junit.jupiter.api.AfterEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.rootling.nursery.Allowance;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.TestStock;
import org.rootling.people.Members;
import org.rootling.people.Vineyards;
import org.rootling.platform.DailyRuns;
import org.rootling.platform.VineyardTime;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.JavaMailSenderImpl;
import org.springframework.transaction.support.TransactionTemplate;

/** The daily look and its mail when the world is not kind: clocks that jump, servers that are down, nodes that die. */
@AppTest
class DailyJobTest {

    /** A clock that is moved by hand. */
    private static final class Moved extends Clock {
        private Instant now = Instant.now();

        @Override
        public ZoneId getZone() {
            return ZoneOffset.UTC;
        }

        @Override
        public Clock withZone(ZoneId zone) {
            return this;
        }

        @Override
        public Instant instant() {
            return now;
        }
    }

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Vineyards days;

    @Autowired
    VineyardTime time;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    @Autowired
    WarningDesk desk;

    @Autowired
    Digest digest;

    @Autowired
    Members members;

    @Autowired
    DailyRuns runs;

    @Autowired
    HoldWords words;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    TransactionTemplate transaction;

    @Autowired
    ObjectProvider<JavaMailSender> senders;

    @AfterEach
    void realTime() {
        time.shiftBy(Duration.ZERO);
    }

    private Lot overdue(TestVineyard vineyard) {
        return vineyard.inside(() -> {
            LocalDate today = days.today();
            Lot lot = TestStock.lot(stock, 60, today.minusDays(40));
            stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 60, today.minusDays(30));
            return lot;
        });
    }

    /** London loses an hour at one, Santiago at midnight itself, Lord Howe half an hour at two (IANA time zones). */
    @ParameterizedTest
    @ValueSource(strings = {"Europe/London", "America/Santiago", "Australia/Lord_Howe"})
    void theNightInWhichClocksGoForwardHasOneLookAndOneMailADay(String zone) {
        TestVineyard vineyard = vineyards.fresh(zone);
        ZoneOffsetTransition gap = nextGap(ZoneId.of(zone));
        Lot lot = overdue(vineyard);
        Map<LocalDate, Integer> looks = new TreeMap<>();
        Map<LocalDate, Integer> mails = new TreeMap<>();
        Instant start = gap.getInstant().minus(Duration.ofHours(30));
        Allowance before = null;
        for (int half = 0; half < 150; half++) {
            time.shiftBy(Duration.between(Instant.now(), start.plus(Duration.ofMinutes(30L * half))));
            LocalDate today = vineyard.inside(days::today);
            boolean looked = vineyard.inside(desk::look);
            boolean wrote = vineyard.inside(digest::write);
            looks.merge(today, looked ? 1 : 0, Integer::sum);
            mails.merge(today, wrote ? 1 : 0, Integer::sum);
            Allowance now = vineyard.inside(() -> lots.holds(lot.id())).get(0).allowance("days");
            if (before != null) {
                assertThat(now.used() - before.used()).isIn(0.0, 1.0);
                assertThat(now.runsOutOn()).isEqualTo(before.runsOutOn());
            }
            before = now;
        }
        assertThat(looks.values()).containsOnly(1);
        assertThat(mails.values()).containsOnly(1);
        // Three whole days and a bit on either side, none left out.
        LocalDate first = looks.keySet().iterator().next();
        assertThat(looks.keySet())
                .containsExactlyElementsOf(
                        first.datesUntil(first.plusDays(looks.size())).toList());
        assertThat(looks).hasSizeBetween(4, 5);
        int written = vineyard.inside(() -> jdbc.sql("select count(*) from digest_mail")
                .query(Integer.class)
                .single());
        assertThat(written).isEqualTo(2 * looks.size());
        assertThat(vineyard.inside(desk::open)).hasSizeBetween(1, 2);
    }

    private static ZoneOffsetTransition nextGap(ZoneId zone) {
        ZoneOffsetTransition next = zone.getRules().nextTransition(Instant.now());
        while (next != null && !next.isGap()) {
            next = zone.getRules().nextTransition(next.getInstant());
        }
        assertThat(next).isNotNull();
        return next;
    }

    private Digest digestWith(Clock clock) {
        return new Digest(
                lots,
                members,
                days,
                runs,
                words,
                jdbc,
                transaction,
                senders,
                clock,
                "rootling@localhost",
                "http://localhost:8080");
    }

    private static JavaMailSenderImpl sender(int port) {
        JavaMailSenderImpl sender = new JavaMailSenderImpl();
        sender.setHost("127.0.0.1");
        sender.setPort(port);
        return sender;
    }

    private static GreenMail server() {
        GreenMail server = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
        server.start();
        return server;
    }

    @Test
    void aMailServerThatIsDownForADayLosesNothingAndDoublesNothing() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        overdue(vineyard);
        Moved clock = new Moved();
        Digest ours = digestWith(clock);
        JavaMailSenderImpl nobody = sender(1);
        vineyard.run(ours::write);
        for (int tenMinutes = 0; tenMinutes < 24 * 6; tenMinutes++) {
            assertThat(vineyard.<Integer>inside(() -> ours.send(nobody))).isZero();
            clock.now = clock.now.plus(Duration.ofMinutes(10));
        }
        // Ever more rarely: 5, 10, 20, 40, 80, 160, 320 minutes, and then every 320.
        int most = vineyard.inside(() -> jdbc.sql("select max(tries) from digest_mail")
                .query(Integer.class)
                .single());
        assertThat(most).isBetween(6, 12);
        time.shiftBy(Duration.ofDays(1));
        vineyard.run(ours::write);
        GreenMail server = server();
        try {
            JavaMailSenderImpl up = sender(server.getSmtp().getPort());
            for (int tenMinutes = 0; tenMinutes < 6 * 6; tenMinutes++) {
                vineyard.run(() -> ours.send(up));
                clock.now = clock.now.plus(Duration.ofMinutes(10));
            }
            MimeMessage[] came = server.getReceivedMessages();
            assertThat(came).hasSize(4);
            assertThat(Arrays.stream(came).map(DailyJobTest::id).distinct()).hasSize(4);
            Map<String, Integer> byPerson = new HashMap<>();
            for (MimeMessage mail : came) {
                byPerson.merge(mail.getAllRecipients()[0].toString(), 1, Integer::sum);
            }
            assertThat(byPerson.values()).containsExactly(2, 2);
        } finally {
            server.stop();
        }
    }

    private static String id(MimeMessage mail) {
        try {
            return mail.getMessageID();
        } catch (jakarta.mail.MessagingException failure) {
            throw new IllegalStateException(failure);
        }
    }

    @Test
    void aLookKilledHalfWayLeavesNothingAndIsDoneAgainWhole() {
        TestVineyard vineyard = vineyards.fresh();
        overdue(vineyard);
        assertThatThrownBy(() -> vineyard.run(() -> transaction.executeWithoutResult(status -> {
                    assertThat(desk.look()).isTrue();
                    assertThat(digest.write()).isTrue();
                    kill(jdbc.sql("select pg_backend_pid()")
                            .query(Integer.class)
                            .single());
                    jdbc.sql("select 1 from pg_sleep(2)").query(Integer.class).single();
                })))
                .isInstanceOf(RuntimeException.class);
        assertThat(vineyard.inside(desk::open)).isEmpty();
        assertThat(mails(vineyard)).isZero();
        assertThat(vineyard.<Boolean>inside(desk::look)).isTrue();
        assertThat(vineyard.<Boolean>inside(digest::write)).isTrue();
        int raised = vineyard.inside(desk::open).size();
        assertThat(raised).isPositive();
        assertThat(mails(vineyard)).isEqualTo(2);
        assertThat(vineyard.<Boolean>inside(desk::look)).isFalse();
        assertThat(vineyard.inside(desk::open)).hasSize(raised);
    }

    private int mails(TestVineyard vineyard) {
        return vineyard.inside(() -> jdbc.sql("select count(*) from digest_mail")
                .query(Integer.class)
                .single());
    }

    private static void kill(int backend) {
        try (Connection other = TestDatabase.asApp();
                var end = other.prepareStatement("select pg_terminate_backend(?)")) {
            end.setInt(1, backend);
            end.execute();
        } catch (SQLException failure) {
            throw new IllegalStateException(failure);
        }
    }

    /** No protocol can rule this out: the server has said yes, and the node dies before it has noted it. */
    @Test
    void aMailSentByADyingNodeGoesOutAgainUnderTheSameId() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        overdue(vineyard);
        vineyard.run(digest::write);
        GreenMail server = server();
        try {
            int port = server.getSmtp().getPort();
            JavaMailSenderImpl dying = new JavaMailSenderImpl() {
                @Override
                public void send(MimeMessage message) {
                    super.send(message);
                    throw new IllegalStateException("the node dies here");
                }
            };
            dying.setHost("127.0.0.1");
            dying.setPort(port);
            assertThatThrownBy(() -> vineyard.run(() -> digest.send(dying))).hasMessage("the node dies here");
            assertThat(vineyard.<Integer>inside(() -> digest.send(sender(port))))
                    .isEqualTo(2);
            List<String> ids = Arrays.stream(server.getReceivedMessages())
                    .map(DailyJobTest::id)
                    .toList();
            assertThat(ids).hasSize(3);
            assertThat(ids.stream().distinct()).hasSize(2);
        } finally {
            server.stop();
        }
    }
}
