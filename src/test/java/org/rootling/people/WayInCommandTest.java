package org.rootling.people;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.ByteArrayOutputStream;
import java.io.PrintStream;
import java.nio.charset.StandardCharsets;
import java.util.ArrayList;
import java.util.List;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.junit.jupiter.api.Test;
import org.rootling.people.domain.WaysIn;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;

/** Whoever runs the server makes a link for somebody who lost password and phone. */
@AppTest
class WayInCommandTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    WaysIn ways;

    @Test
    void theCommandPrintsALinkThatOpensTheAccount() {
        String email = vineyards.fresh().email(Role.OWNER);

        String printed = run(0, "way-in", email, "--rootling.url=https://vines.example");

        Matcher link = Pattern.compile("https://vines\\.example/way-in/(\\S+)").matcher(printed);
        assertThat(link.find()).isTrue();
        assertThat(ways.find(link.group(1))).map(WaysIn.Known::email).contains(email);
    }

    @Test
    void anUnknownAddressOrNoneIsSaid() {
        assertThat(run(1, "way-in", "nobody@vines.example")).contains("no account with this address");
        assertThat(run(2, "way-in")).contains("usage: way-in ADDRESS");
    }

    private static String run(int expected, String... words) {
        List<String> arguments = new ArrayList<>(List.of(words));
        TestDatabase.properties().forEach((key, value) -> arguments.add("--" + key + "=" + value));
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        int code =
                WayInCommand.run(arguments.toArray(String[]::new), new PrintStream(out, true, StandardCharsets.UTF_8));
        assertThat(code).as(out.toString(StandardCharsets.UTF_8)).isEqualTo(expected);
        return out.toString(StandardCharsets.UTF_8);
    }
}
