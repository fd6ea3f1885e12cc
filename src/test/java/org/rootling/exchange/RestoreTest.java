package org.rootling.exchange;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.util.Map;
import java.util.UUID;
import org.jsoup.nodes.Document;
import org.junit.jupiter.api.Test;
import org.rootling.people.Role;
import org.rootling.support.AppTest;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.jdbc.core.simple.JdbcClient;

/** Someone puts an archive into a vineyard: a good one is entered, every other is refused and leaves nothing. */
@AppTest
class RestoreTest {

    @Autowired
    TestVineyards vineyards;

    @Autowired
    JdbcClient jdbc;

    @Test
    void textsThatLookLikeFormulasOrNothingComeBackAsTheyWere() {
        TestVineyard from = vineyards.fresh();
        String[] notes = {"=1+1", "'quoted", "-5", "@x", "+1", "\tx", "", "a \"b\", c\nd", "<b>&amp;", "null"};
        from.run(() -> {
            for (int i = 0; i < notes.length; i++) {
                variety(i, notes[i]);
            }
            variety(notes.length, null);
        });
        TestVineyard into = vineyards.fresh();

        Document page = TestArchive.putBack(into, TestArchive.of(from));

        assertThat(page.select("main").text()).contains("Put back");
        var back = into.inside(() -> jdbc.sql("select note from own_variety order by name")
                .query((row, n) -> java.util.Optional.ofNullable(row.getString(1)))
                .list());
        assertThat(back).hasSize(notes.length + 1);
        for (int i = 0; i < notes.length; i++) {
            assertThat(back.get(i)).as("note " + i).contains(notes[i]);
        }
        assertThat(back.get(notes.length)).isEmpty();
    }

    @Test
    void itShowsWhatItHoldsAndWhoIsWhoBeforeAnythingIsStored() {
        TestVineyard from = vineyards.fresh();
        from.run(() -> variety(1, "x"));
        TestVineyard into = vineyards.fresh();

        Document page = TestArchive.upload(into, TestArchive.of(from));

        assertThat(page.select("main").text())
                .contains(
                        "Checked, nothing stored yet", "Test " + from.slug(), "own variety", "Ada Owner", "as a name");
        assertThat(varieties(into)).isZero();
    }

    @Test
    void aVineyardWithRecordsTakesNone() {
        TestVineyard from = vineyards.fresh();
        byte[] archive = TestArchive.of(from);
        TestVineyard into = vineyards.fresh();
        into.run(() -> variety(1, "own"));

        assertThat(into.as(Role.OWNER).open("/archive/restore").page().select("main form"))
                .isEmpty();
        assertThat(TestArchive.upload(into, archive).select(".alert").text())
                .contains("records in this vineyard already");
        assertThat(varieties(into)).isEqualTo(1);
    }

    @Test
    void recordsEnteredMeanwhileStopIt() {
        TestVineyard from = vineyards.fresh();
        from.run(() -> variety(1, "x"));
        TestVineyard into = vineyards.fresh();
        var owner = into.as(Role.OWNER);
        Document looked = TestArchive.upload(into, TestArchive.of(from));
        into.run(() -> variety(2, "meanwhile"));

        String action = looked.select("form[action$=/start]").attr("action").substring(("/v/" + into.slug()).length());

        assertThat(owner.send(action).status()).isEqualTo(422);
        assertThat(varieties(into)).isEqualTo(1);
    }

    @Test
    void aChangedFileIsFoundOut() throws IOException {
        Map<String, byte[]> files = archiveWithAVariety();
        files.put(
                "tables/own_variety.csv",
                TestArchive.text(files, "tables/own_variety.csv")
                        .replace("first", "forged")
                        .getBytes(StandardCharsets.UTF_8));

        refused(files, "not as it was written");
    }

    @Test
    void anUnknownOrMissingFileIsRefused() throws IOException {
        Map<String, byte[]> more = archiveWithAVariety();
        more.put("../../etc/cron.d/x", new byte[] {1});
        refused(more, "does not belong there");
        Map<String, byte[]> less = archiveWithAVariety();
        less.remove("tables/own_variety.csv");
        refused(less, "lacks a file");
    }

    @Test
    void anotherLayoutOrALaterSchemaIsRefused() throws IOException {
        Map<String, byte[]> layout = archiveWithAVariety();
        TestArchive.manifest(layout, manifest -> manifest.put("version", 2));
        refused(layout, "layout 2");
        Map<String, byte[]> later = archiveWithAVariety();
        TestArchive.manifest(later, manifest -> manifest.put("schema", "99999"));
        refused(later, "later Rootling");
    }

    @Test
    void anUnknownTableOrColumnIsRefused() throws IOException {
        Map<String, byte[]> files = archiveWithAVariety();
        TestArchive.replace(
                files,
                "tables/own_variety.csv",
                TestArchive.text(files, "tables/own_variety.csv")
                        .replaceFirst("colour", "color")
                        .getBytes(StandardCharsets.UTF_8));
        refused(files, "columns of own_variety.csv");
    }

    @Test
    void whatUnpacksToAHundredTimesItsSizeIsRefused() throws IOException {
        Map<String, byte[]> files = archiveWithAVariety();
        TestArchive.replace(files, "README.txt", new byte[40 << 20]);
        refused(files, "larger than can be put back");
    }

    @Test
    void aManifestThatLiesAboutALengthDoesNotHelpABomb() throws IOException {
        Map<String, byte[]> files = archiveWithAVariety();
        files.put("README.txt", new byte[40 << 20]);
        refused(files, "not as it was written");
    }

    @Test
    void anEndlessRecordIsRefused() throws IOException {
        Map<String, byte[]> files = archiveWithAVariety();
        byte[] random = new byte[6 << 20];
        new java.util.Random(1).nextBytes(random);
        String letters = java.util.HexFormat.of().formatHex(random);
        TestArchive.replace(
                files,
                "tables/own_variety.csv",
                (TestArchive.text(files, "tables/own_variety.csv")
                                        .lines()
                                        .findFirst()
                                        .orElseThrow() + "\r\n\"" + letters)
                        .getBytes(StandardCharsets.UTF_8));
        TestVineyard into = vineyards.fresh();
        assertThat(TestArchive.putBack(into, TestArchive.zip(files))
                        .select(".alert.danger")
                        .text())
                .contains("could not be read");
        assertThat(varieties(into)).isZero();
    }

    @Test
    void recordsThatTheDatabaseWouldNeverHoldAreRefusedAndNothingStays() throws IOException {
        Map<String, byte[]> files = archiveWithAVariety();
        TestArchive.replace(
                files,
                "tables/own_variety.csv",
                TestArchive.text(files, "tables/own_variety.csv")
                        .replace("WHITE", "PURPLE")
                        .getBytes(StandardCharsets.UTF_8));
        TestVineyard into = vineyards.fresh();

        Document page = TestArchive.putBack(into, TestArchive.zip(files));

        assertThat(page.select("main").text()).contains("Not put back", "own_variety do not fit together");
        assertThat(varieties(into)).isZero();
        assertThat(count(into, "select count(*) from membership")).isEqualTo(4);
    }

    @Test
    void whatIsNoArchiveIsRefused() {
        TestVineyard into = vineyards.fresh();
        for (byte[] junk : new byte[][] {{1, 2, 3}, "PK\u0003\u0004junk".getBytes(StandardCharsets.ISO_8859_1)}) {
            assertThat(TestArchive.upload(into, junk).select(".alert.danger").text())
                    .contains("no archive made by Rootling");
        }
        assertThat(TestArchive.upload(into, new byte[0]).select(".error").text())
                .contains("no archive");
    }

    private void refused(Map<String, byte[]> files, String why) throws IOException {
        TestVineyard into = vineyards.fresh();
        Document page = TestArchive.upload(into, TestArchive.zip(files));
        assertThat(page.select("form[action$=/start]")).isEmpty();
        assertThat(page.select(".alert.danger").text()).contains(why);
        assertThat(varieties(into)).isZero();
    }

    private Map<String, byte[]> archiveWithAVariety() throws IOException {
        TestVineyard from = vineyards.fresh();
        from.run(() -> variety(1, "first"));
        return TestArchive.files(TestArchive.of(from));
    }

    private void variety(int n, String note) {
        jdbc.sql("insert into own_variety (id, name, colour, note) values (:id, :name, 'WHITE', :note)")
                .param("id", UUID.randomUUID())
                .param("name", String.format("Variety %02d", n))
                .param("note", note)
                .update();
    }

    private int varieties(TestVineyard vineyard) {
        return count(vineyard, "select count(*) from own_variety");
    }

    private int count(TestVineyard vineyard, String sql) {
        return vineyard.inside(() -> jdbc.sql(sql).query(Integer.class).single());
    }
}
