package org.rootling.platform;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.List;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.springframework.core.io.ClassPathResource;

/** Published facts that come with the program: the tables of {@code shared/reference}. */
public final class ShippedData {

    private static final CSVFormat FORMAT = CSVFormat.DEFAULT
            .builder()
            .setHeader()
            .setSkipHeaderRecord(true)
            .setTrim(true)
            .get();

    private ShippedData() {}

    /** The lines of a table, by the headings of its first. */
    public static List<CSVRecord> lines(String file) {
        ClassPathResource table = new ClassPathResource("reference/" + file);
        try (Reader in = new InputStreamReader(table.getInputStream(), StandardCharsets.UTF_8)) {
            return FORMAT.parse(in).getRecords();
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }
}
