package org.rootling.nursery.web;

import static org.assertj.core.api.Assertions.assertThat;
import static org.springframework.test.web.servlet.request.MockMvcRequestBuilders.get;

import com.google.zxing.common.BitMatrix;
import com.google.zxing.qrcode.decoder.Decoder;
import com.google.zxing.qrcode.encoder.ByteMatrix;
import com.icegreen.greenmail.util.GreenMail;
import com.icegreen.greenmail.util.ServerSetup;
import jakarta.mail.internet.MimeMessage;
import jakarta.mail.internet.MimeMultipart;
import java.io.StringReader;
import java.net.URI;
import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.time.LocalDate;
import java.util.List;
import java.util.concurrent.Callable;
import java.util.concurrent.ExecutorService;
import java.util.concurrent.Executors;
import net.fortuna.ical4j.data.CalendarBuilder;
import net.fortuna.ical4j.model.component.VEvent;
import org.apache.pdfbox.Loader;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.text.PDFTextStripper;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.nursery.Stock;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.TestStock;
import org.rootling.nursery.domain.Digest;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.mail.javamail.JavaMailSenderImpl;

/** What leaves the program: mail, calendar, labels, traces. */
@AppTest
class MailCalendarLabelsTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    Stock stock;

    @Autowired
    Lots lots;

    @Autowired
    Digest digest;

    @Autowired
    Vineyards days;

    TestVineyard vineyard;
    LocalDate today;

    @BeforeEach
    void makeVineyard() {
        vineyard = vineyards.fresh();
        today = vineyard.inside(() -> days.today());
    }

    private Lot overdue() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 60, today.minusDays(40)));
        vineyard.run(() -> stock.place(lot.id(), TestStock.store(stock, StoreKind.HEELED_IN), 60, today.minusDays(30)));
        return lot;
    }

    private static JavaMailSenderImpl sender(int port) {
        JavaMailSenderImpl sender = new JavaMailSenderImpl();
        sender.setHost("127.0.0.1");
        sender.setPort(port);
        sender.getJavaMailProperties().put("mail.smtp.connectiontimeout", "2000");
        return sender;
    }

    private static GreenMail server() {
        GreenMail server = new GreenMail(new ServerSetup(0, "127.0.0.1", ServerSetup.PROTOCOL_SMTP));
        server.start();
        return server;
    }

    @Test
    void eachOwnerAndLeadGetsOneMailADayWhateverTheNumberOfNodes() throws Exception {
        Lot lot = overdue();
        Hold hold = vineyard.inside(() -> lots.holds()).get(0);
        ExecutorService nodes = Executors.newFixedThreadPool(2);
        GreenMail server = server();
        try {
            Callable<Boolean> write = () -> vineyard.inside(() -> digest.write());
            List<Boolean> first = List.of(
                    nodes.invokeAll(List.of(write, write)).get(0).get(),
                    nodes.submit(write).get());
            assertThat(first).contains(false);
            JavaMailSenderImpl sender = sender(server.getSmtp().getPort());
            Callable<Integer> send = () -> vineyard.inside(() -> digest.send(sender));
            int sent = 0;
            for (var one : nodes.invokeAll(List.of(send, send))) {
                sent += one.get();
            }
            sent += vineyard.inside(() -> digest.send(sender));
            assertThat(sent).isEqualTo(2);
            MimeMessage[] mails = server.getReceivedMessages();
            assertThat(mails).hasSize(2);
            assertThat(List.of(mails[0].getAllRecipients()[0].toString(), mails[1].getAllRecipients()[0].toString()))
                    .containsExactlyInAnyOrder(vineyard.email(Role.OWNER), vineyard.email(Role.LEAD));
            assertThat(mails[0].getSubject()).contains("1 over");
            String all = content((MimeMultipart) mails[0].getContent());
            assertThat(all)
                    .contains(lot.code() + " Bacchus: 60 vines")
                    .contains("text/plain")
                    .contains("<li>")
                    .contains("/v/" + vineyard.slug() + "/lots");
            assertThat(all)
                    .contains(java.time.format.DateTimeFormatter.ofPattern("EEE d MMM", java.util.Locale.ENGLISH)
                            .format(hold.runsOutOn()));
        } finally {
            nodes.shutdown();
            server.stop();
        }
    }

    @Test
    void everyoneReadsTheMailInTheirLanguage() throws Exception {
        overdue();
        overdue();
        language(Role.OWNER, "de");
        language(Role.LEAD, "fr");
        GreenMail server = server();
        try {
            JavaMailSenderImpl sender = sender(server.getSmtp().getPort());
            vineyard.<Boolean>inside(() -> digest.write());
            assertThat(vineyard.<Integer>inside(() -> digest.send(sender))).isEqualTo(2);
            for (MimeMessage mail : server.getReceivedMessages()) {
                boolean german = mail.getAllRecipients()[0].toString().equals(vineyard.email(Role.OWNER));
                assertThat(mail.getSubject()).contains(german ? "2 überschritten" : "2 dépassés");
                assertThat(content((MimeMultipart) mail.getContent()))
                        .contains(german ? "Reben" : "plants")
                        .doesNotContain("vines,", "??");
            }
        } finally {
            server.stop();
        }
    }

    private void language(Role role, String locale) throws SQLException {
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement()) {
            statement.execute(
                    "update account set locale = '" + locale + "' where email = '" + vineyard.email(role) + "'");
        }
    }

    private static String content(MimeMultipart parts) throws Exception {
        StringBuilder all = new StringBuilder();
        for (int i = 0; i < parts.getCount(); i++) {
            all.append(parts.getBodyPart(i).getContentType()).append('\n');
            Object content = parts.getBodyPart(i).getContent();
            all.append(content instanceof MimeMultipart inner ? content(inner) : content)
                    .append('\n');
        }
        return all.toString();
    }

    @Test
    void whereNothingIsWrongNoMailIsWritten() {
        Lot lot = vineyard.inside(() -> TestStock.lot(stock, 10, today.minusDays(1)));
        vineyard.run(() -> stock.place(lot.id(), TestStock.store(stock, StoreKind.COLD_STORE), 10, today));
        assertThat(vineyard.<Boolean>inside(() -> digest.write())).isTrue();
        assertThat(vineyard.<Integer>inside(() -> digest.send(sender(1)))).isZero();
    }

    @Test
    void aServerThatIsDownLosesNoMail() {
        overdue();
        vineyard.run(() -> digest.write());
        assertThat(vineyard.<Integer>inside(() -> digest.send(sender(1)))).isZero();
        GreenMail server = server();
        try {
            JavaMailSenderImpl sender = sender(server.getSmtp().getPort());
            // One was tried and waits a while; the other goes now.
            assertThat(vineyard.<Integer>inside(() -> digest.send(sender))).isEqualTo(1);
            assertThat(server.getReceivedMessages()).hasSize(1);
        } finally {
            server.stop();
        }
    }

    @Test
    void thePrivateCalendarHoldsWateringsAndPlantByDays() throws Exception {
        Lot lot = overdue();
        Hold hold = vineyard.inside(() -> lots.holds()).get(0);
        var page = vineyard.as(Role.HELPER).open("/calendar").page();
        assertThat(page.text()).contains("Water " + hold.store());
        var made = vineyard.as(Role.HELPER).send("/calendar/address");
        String address = String.valueOf(made.raw().getFlashMap().get("address"));
        String path = URI.create(address).getPath();
        var answer = vineyard.mvc().perform(get(path)).andReturn().getResponse();
        assertThat(answer.getStatus()).isEqualTo(200);
        assertThat(answer.getContentType()).startsWith("text/calendar");
        String text = answer.getContentAsString(java.nio.charset.StandardCharsets.UTF_8);
        // RFC 5545 section 3.1: lines end with CRLF and have at most 75 octets.
        assertThat(text).contains("\r\n");
        assertThat(text.split("\r\n"))
                .allSatisfy(line -> assertThat(line.getBytes(java.nio.charset.StandardCharsets.UTF_8).length)
                        .isLessThanOrEqualTo(75));
        List<VEvent> events =
                new CalendarBuilder().build(new StringReader(text)).getComponents("VEVENT");
        assertThat(events).hasSize(2);
        assertThat(text)
                .contains("DTSTART;VALUE=DATE:" + hold.plantBy().toString().replace("-", ""))
                .contains("DTSTART;VALUE=DATE:" + hold.runsOutOn().toString().replace("-", ""))
                .contains("UID:plant-by-" + hold.id());
        assertThat(lot.code()).isNotEmpty();
        vineyard.as(Role.HELPER).send("/calendar/end");
        assertThat(vineyard.mvc().perform(get(path)).andReturn().getResponse().getStatus())
                .isEqualTo(404);
        assertThat(vineyard.mvc()
                        .perform(get("/calendar/guess.ics"))
                        .andReturn()
                        .getResponse()
                        .getStatus())
                .isEqualTo(404);
    }

    @Test
    void labelsArePrintedOnSheetsAndTheirCodesCanBeRead() throws Exception {
        Lot lot = overdue();
        var answer = vineyard.as(Role.READER).open("/labels/labels.pdf?sheet=L24&of=lots&copies=25");
        assertThat(answer.status()).isEqualTo(200);
        try (PDDocument pdf = Loader.loadPDF(answer.raw().getResponse().getContentAsByteArray())) {
            assertThat(pdf.getNumberOfPages()).isEqualTo(2);
            assertThat(pdf.getPage(0).getMediaBox().getWidth() * 25.4 / 72)
                    .isCloseTo(210, org.assertj.core.api.Assertions.within(0.5));
            assertThat(new PDFTextStripper().getText(pdf)).contains(lot.code());
        }
        String link = "http://localhost/v/" + vineyard.slug() + "/lots/" + lot.code();
        ByteMatrix code = QrSvg.encode(link);
        BitMatrix bits = new BitMatrix(code.getWidth());
        for (int y = 0; y < code.getHeight(); y++) {
            for (int x = 0; x < code.getWidth(); x++) {
                if (code.get(x, y) == 1) {
                    bits.set(x, y);
                }
            }
        }
        assertThat(new Decoder().decode(bits).getText()).isEqualTo(link);
        assertThat(vineyard.as(Role.READER)
                        .open("/labels/labels.pdf?sheet=L24&copies=1000")
                        .status())
                .isEqualTo(422);
        assertThat(vineyard.as(Role.READER).open("/labels/labels.pdf?sheet=L99").status())
                .isBetween(400, 499);
    }

    @Test
    void aPassportLeadsToItsVinesAsPageCsvAndPdf() throws Exception {
        Lot lot = overdue();
        var page = vineyard.as(Role.READER).open("/passports?code=t-60");
        assertThat(page.page().text()).contains(lot.code()).contains("C T-60").contains("60 waiting");
        assertThat(vineyard.as(Role.READER).open("/passports?code=other").page().text())
                .contains("No lot has");
        var csv = vineyard.as(Role.READER).open("/passports/trace.csv");
        assertThat(csv.body()).contains(lot.code() + ",Bacchus,,SO4").contains("T-60");
        var pdf = vineyard.as(Role.READER).open("/passports/trace.pdf?code=");
        try (PDDocument read = Loader.loadPDF(pdf.raw().getResponse().getContentAsByteArray())) {
            assertThat(new PDFTextStripper().getText(read)).contains(lot.code()).contains("T-60");
        }
    }

    @Test
    void aFormulaInAnyTextReachesNoSpreadsheetAsOne() {
        Lot lot = overdue();
        vineyard.as(Role.LEAD).send("/lots/" + lot.code() + "/papers", "trace", "=1+1", "version", "0");
        assertThat(vineyard.as(Role.READER).open("/passports/trace.csv").body()).contains(",'=1+1,");
    }

    @Test
    void theOrderPageSaysHowManyAndHowSure() {
        var answer =
                vineyard.as(Role.READER).open("/how-many?places=1000&spares=10&lossPercent=5&surePercent=95&bundle=25");
        assertThat(answer.page().select(".figure").text()).contains("vines").contains("bundles");
        assertThat(vineyard.as(Role.READER).open("/how-many").status()).isEqualTo(200);
        var bad = vineyard.as(Role.READER).open("/how-many?places=-1&bundle=0&lossPercent=x");
        assertThat(bad.status()).isEqualTo(200);
        assertThat(bad.page().select(".error")).isNotEmpty();
    }
}
