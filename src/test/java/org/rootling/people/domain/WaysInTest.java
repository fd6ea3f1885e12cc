package org.rootling.people.domain;

import static org.assertj.core.api.Assertions.assertThat;

import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.internet.MimeMessage;
import java.sql.Connection;
import java.sql.Statement;
import java.time.Clock;
import java.util.Locale;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.beans.factory.support.StaticListableBeanFactory;
import org.springframework.context.MessageSource;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.mail.javamail.JavaMailSender;
import org.springframework.mail.javamail.JavaMailSenderImpl;

/** Somebody forgot their password, and the server can send mail. */
@AppTest
class WaysInTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    JdbcClient jdbc;

    @Autowired
    PeopleService people;

    @Autowired
    MessageSource messages;

    @Test
    void oneMailWithALinkGoesToAnAccountInItsLanguageAndNoneToAStranger() throws Exception {
        TestVineyard vineyard = vineyards.fresh();
        String email = vineyard.email(Role.HELPER);
        try (Connection db = TestDatabase.asOwner();
                Statement statement = db.createStatement()) {
            statement.execute("update account set locale = 'de' where email = '" + email + "'");
        }
        GreenMail server = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
        server.start();
        try {
            WaysIn ways = ways(server.getSmtp().getPort());
            ways.ask("stranger" + email, Locale.ENGLISH);
            ways.ask(" " + email + " ", Locale.ENGLISH);

            assertThat(server.waitForIncomingEmail(20_000, 1)).isTrue();
            ways.stop();
            MimeMessage[] mails = server.getReceivedMessages();
            assertThat(mails).hasSize(1);
            assertThat(mails[0].getAllRecipients()[0]).hasToString(email);
            assertThat(mails[0].getSubject()).isEqualTo("Ein neues Passwort für Rootling");
            Matcher link =
                    Pattern.compile("https://vines\\.example/way-in/(\\S+)").matcher((String) mails[0].getContent());
            assertThat(link.find()).isTrue();
            assertThat(ways.find(link.group(1))).map(WaysIn.Known::email).contains(email);
            assertThat(ways.find(link.group(1) + "x")).isEmpty();
        } finally {
            server.stop();
        }
    }

    private WaysIn ways(int port) {
        JavaMailSenderImpl sender = new JavaMailSenderImpl();
        sender.setHost("127.0.0.1");
        sender.setPort(port);
        StaticListableBeanFactory beans = new StaticListableBeanFactory();
        beans.addBean("sender", sender);
        return new WaysIn(
                jdbc,
                people,
                beans.getBeanProvider(JavaMailSender.class),
                messages,
                Clock.systemUTC(),
                "rootling@vines.example",
                "https://vines.example");
    }
}
