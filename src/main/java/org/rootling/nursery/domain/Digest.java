package org.rootling.nursery.domain;

import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import java.nio.charset.StandardCharsets;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.UUID;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Level;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.Member;
import org.rootling.people.Members;
import org.rootling.people.Role;
import org.rootling.people.Vineyard;
import org.rootling.people.Vineyards;
import org.rootling.platform.DailyRuns;
import org.rootling.platform.Ids;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.MailException;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.MimeMessageHelper;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.transaction.support.TransactionTemplate;
import org.springframework.web.util.HtmlUtils;

/**
 * One mail a day to each owner and lead of a vineyard where something waits too long; silence where nothing does. Off
 * unless an SMTP server is set. Mails are written once a day in one transaction and wait in the database, so that a server
 * that is down for a day loses none, and two nodes send one.
 */
@Component
public class Digest {

    private static final Logger LOG = LoggerFactory.getLogger(Digest.class);
    private static final String JOB = "hold-digest";

    /** A mail that waits. */
    private record Waiting(UUID id, String to, String subject, String text, String html, int tries) {}

    private final Lots lots;
    private final Members members;
    private final Vineyards vineyards;
    private final DailyRuns runs;
    private final HoldWords words;
    private final JdbcClient jdbc;
    private final TransactionTemplate transaction;
    private final ObjectProvider<JavaMailSender> senders;
    private final Clock clock;
    private final String from;
    private final String url;

    Digest(
            Lots lots,
            Members members,
            Vineyards vineyards,
            DailyRuns runs,
            HoldWords words,
            JdbcClient jdbc,
            TransactionTemplate transaction,
            ObjectProvider<JavaMailSender> senders,
            Clock clock,
            @Value("${rootling.mail.from:rootling@localhost}") String from,
            @Value("${rootling.url:http://localhost:8080}") String url) {
        this.lots = lots;
        this.members = members;
        this.vineyards = vineyards;
        this.runs = runs;
        this.words = words;
        this.jdbc = jdbc;
        this.transaction = transaction;
        this.senders = senders;
        this.clock = clock;
        this.from = from;
        this.url = url;
    }

    /** Writes the day's mails and sends what waits, if a mail server is set. */
    public void daily() {
        JavaMailSender sender = senders.getIfAvailable();
        if (sender != null) {
            write();
            send(sender);
        }
    }

    /** Writes the mails of today for the current vineyard, once; false if that was done before. */
    @Transactional
    public boolean write() {
        LocalDate today = vineyards.today();
        return runs.once(JOB, today, () -> writeFor(today));
    }

    private void writeFor(LocalDate today) {
        List<Hold> pressing =
                lots.holds().stream().filter(h -> h.level() != Level.EASY).toList();
        List<Lot> unplaced = lots.all().stream().filter(l -> l.unplaced() > 0).toList();
        if (pressing.isEmpty() && unplaced.isEmpty()) {
            return;
        }
        for (Member member : members.list()) {
            if (member.role().includes(Role.LEAD)) {
                writeTo(member, members.language(member.accountId()), today, pressing, unplaced);
            }
        }
    }

    private void writeTo(Member member, Locale locale, LocalDate today, List<Hold> pressing, List<Lot> unplaced) {
        Vineyard vineyard = vineyards.current();
        String link = url + "/v/" + vineyard.slug() + "/lots";
        long over = pressing.stream().filter(h -> h.level() == Level.OVER).count();
        String subject = words.say(
                "nursery.digest.subject", locale, vineyard.name(), over, pressing.size() - over, unplaced.size());
        StringBuilder text = new StringBuilder();
        StringBuilder html = new StringBuilder("<ul>");
        for (Lot lot : unplaced) {
            line(
                    text,
                    html,
                    lot.code() + " " + lot.variety() + ": "
                            + words.say(
                                    "nursery.waiting.unplaced-count",
                                    locale,
                                    lot.unplaced(),
                                    HoldWords.day(lot.received(), locale))
                            + " " + words.say("nursery.waiting.unplaced-do", locale));
        }
        pressing.forEach(hold -> line(text, html, words.paragraph(hold, locale)));
        text.append('\n').append(link).append('\n');
        html.append("</ul><p><a href=\"").append(HtmlUtils.htmlEscape(link)).append("\">");
        html.append(HtmlUtils.htmlEscape(link)).append("</a></p>");
        jdbc.sql("""
                        insert into digest_mail (id, account_id, day, to_address, subject, body_text, body_html)
                        values (:id, :account, :day, :to, :subject, :text, :html)
                        on conflict (vineyard_id, account_id, day) do nothing
                        """)
                .param("id", Ids.next())
                .param("account", member.accountId())
                .param("day", today)
                .param("to", member.email())
                .param("subject", subject.length() > 200 ? subject.substring(0, 200) : subject)
                .param("text", text.toString())
                .param("html", html.toString())
                .update();
    }

    private static void line(StringBuilder text, StringBuilder html, String line) {
        text.append("* ").append(line).append('\n');
        html.append("<li>").append(HtmlUtils.htmlEscape(line)).append("</li>");
    }

    /**
     * Sends what waits in the current vineyard; stops at the first failure and tries again later, ever more rarely. A
     * second node passes over a mail that the first is just sending.
     *
     * @return how many were sent
     */
    public int send(JavaMailSender sender) {
        int sent = 0;
        while (Boolean.TRUE.equals(transaction.execute(status -> sendNext(sender)))) {
            sent++;
        }
        return sent;
    }

    private boolean sendNext(JavaMailSender sender) {
        Instant now = clock.instant();
        List<Waiting> next = jdbc.sql("""
                        select id, to_address, subject, body_text, body_html, tries from digest_mail
                         where sent_at is null and next_try_at <= :now
                         order by id limit 1 for update skip locked
                        """)
                .param("now", Timestamp.from(now))
                .query((rs, n) -> new Waiting(
                        rs.getObject("id", UUID.class),
                        rs.getString("to_address"),
                        rs.getString("subject"),
                        rs.getString("body_text"),
                        rs.getString("body_html"),
                        rs.getInt("tries")))
                .list();
        if (next.isEmpty()) {
            return false;
        }
        Waiting mail = next.get(0);
        try {
            sender.send(message(sender, mail));
        } catch (MailException | MessagingException failure) {
            LOG.warn(
                    "a digest could not be sent and is kept: {}",
                    failure.getClass().getSimpleName());
            Duration wait = Duration.ofMinutes(5L << Math.min(mail.tries(), 6));
            jdbc.sql("update digest_mail set tries = tries + 1, next_try_at = :next where id = :id")
                    .param("next", Timestamp.from(now.plus(wait)))
                    .param("id", mail.id())
                    .update();
            return false;
        }
        jdbc.sql("update digest_mail set sent_at = :now where id = :id")
                .param("now", Timestamp.from(now))
                .param("id", mail.id())
                .update();
        return true;
    }

    private MimeMessage message(JavaMailSender sender, Waiting mail) throws MessagingException {
        MimeMessage message = sender.createMimeMessage();
        // If a node dies between the server's yes and our note of it, the mail goes out again: under the same id, by
        // which
        // mail programs know it as the one they have.
        message.setHeader("Message-ID", "<" + mail.id() + "@rootling.invalid>");
        MimeMessageHelper helper = new MimeMessageHelper(message, true, StandardCharsets.UTF_8.name());
        helper.setFrom(from);
        helper.setTo(mail.to());
        helper.setSubject(mail.subject());
        helper.setText(mail.text(), mail.html());
        return message;
    }
}
