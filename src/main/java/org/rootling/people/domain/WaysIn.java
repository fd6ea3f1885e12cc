package org.rootling.people.domain;

import jakarta.annotation.PreDestroy;
import jakarta.mail.MessagingException;
import jakarta.mail.internet.MimeMessage;
import java.nio.charset.StandardCharsets;
import java.sql.Timestamp;
import java.time.Clock;
import java.time.Duration;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ArrayBlockingQueue;
import java.util.concurrent.ThreadPoolExecutor;
import java.util.concurrent.TimeUnit;
import org.rootling.platform.Refused;
import org.slf4j.Logger;
import org.slf4j.LoggerFactory;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.context.MessageSource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.MailException;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.MimeMessageHelper;
import org.springframework.stereotype.Service;

/**
 * A way back in for who forgot their password: a link by mail, good once and for an hour. Only where a mail server
 * ({@code spring.mail.host}) and the address that people use ({@code rootling.url}) are set: an address taken from the
 * request could be anyone's. Elsewhere the operator makes the link.
 */
@Service
public class WaysIn {

    /** How long a link is good. */
    public static final Duration VALID = Duration.ofHours(1);

    private static final Logger LOG = LoggerFactory.getLogger(WaysIn.class);

    /** Whose password a link sets. */
    public record Known(UUID accountId, String email, String name) {}

    private record Recipient(String email, String name, String locale) {}

    private final JdbcClient jdbc;
    private final PeopleService people;
    private final ObjectProvider<JavaMailSender> senders;
    private final MessageSource messages;
    private final Clock clock;
    private final String from;
    private final String url;

    /** Mails go out behind the answer, so that its time does not tell whether there is such an account. */
    private final ThreadPoolExecutor post = new ThreadPoolExecutor(
            0,
            1,
            30,
            TimeUnit.SECONDS,
            new ArrayBlockingQueue<>(200),
            work -> {
                Thread thread = new Thread(work, "ways-in");
                thread.setDaemon(true);
                return thread;
            },
            new ThreadPoolExecutor.DiscardPolicy());

    WaysIn(
            JdbcClient jdbc,
            PeopleService people,
            ObjectProvider<JavaMailSender> senders,
            MessageSource messages,
            Clock realClock,
            @Value("${rootling.mail.from:rootling@localhost}") String from,
            @Value("${rootling.url:}") String url) {
        this.jdbc = jdbc;
        this.people = people;
        this.senders = senders;
        this.messages = messages;
        this.clock = realClock;
        this.from = from;
        this.url = url;
    }

    /** Whether links can be mailed here. */
    public boolean byMail() {
        return !url.isBlank() && senders.getIfAvailable() != null;
    }

    /** Mails a link to an address, if it is an account's; says nothing about that. */
    public void ask(String email, Locale browsers) {
        if (byMail()) {
            post.execute(() -> make(email, browsers));
        }
    }

    private void make(String email, Locale browsers) {
        String secret = Secrets.next();
        jdbc.sql("select * from rootling_make_way_in(:email, :hash, :now, :expires)")
                .param("email", email.strip())
                .param("hash", Secrets.hash(secret))
                .param("now", Timestamp.from(clock.instant()))
                .param("expires", Timestamp.from(clock.instant().plus(VALID)))
                .query((row, i) ->
                        new Recipient(row.getString("email"), row.getString("name"), row.getString("locale")))
                .optional()
                .ifPresent(to -> send(to, secret, browsers));
    }

    private void send(Recipient to, String secret, Locale browsers) {
        Locale locale = to.locale().equals("auto") ? browsers : Locale.forLanguageTag(to.locale());
        JavaMailSender sender = senders.getObject();
        try {
            MimeMessage message = sender.createMimeMessage();
            MimeMessageHelper helper = new MimeMessageHelper(message, StandardCharsets.UTF_8.name());
            helper.setFrom(from);
            helper.setTo(to.email());
            helper.setSubject(messages.getMessage("people.way-in.mail-subject", null, locale));
            helper.setText(messages.getMessage(
                    "people.way-in.mail-text", new Object[] {to.name(), url + "/way-in/" + secret}, locale));
            sender.send(message);
        } catch (MailException | MessagingException failure) {
            LOG.warn(
                    "a link for a new password could not be sent: {}",
                    failure.getClass().getSimpleName());
        }
    }

    /** Whose password a link sets, if it is still good. */
    public Optional<Known> find(String secret) {
        return jdbc.sql("select * from rootling_way_in(:hash, :now)")
                .param("hash", Secrets.hash(secret))
                .param("now", Timestamp.from(clock.instant()))
                .query((row, i) -> new Known(
                        row.getObject("account_id", UUID.class), row.getString("email"), row.getString("name")))
                .optional();
    }

    /** Sets a new password by a link; of two at once, one wins. */
    public Known use(String secret, String password) {
        Known known = find(secret).orElseThrow(() -> new Refused("people.way-in.not-usable"));
        String hash = people.hashOfGood(password, known.email(), known.name());
        boolean used = jdbc.sql("select rootling_use_way_in(:hash, :now, :password)")
                .param("hash", Secrets.hash(secret))
                .param("now", Timestamp.from(clock.instant()))
                .param("password", hash)
                .query(Boolean.class)
                .single();
        if (!used) {
            throw new Refused("people.way-in.not-usable");
        }
        return known;
    }

    @PreDestroy
    void stop() {
        post.shutdown();
    }
}
