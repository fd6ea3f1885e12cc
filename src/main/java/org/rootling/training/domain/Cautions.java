package org.rootling.training.domain;

import java.io.IOException;
import java.io.InputStreamReader;
import java.io.Reader;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import org.apache.commons.csv.CSVFormat;
import org.apache.commons.csv.CSVRecord;
import org.rootling.platform.ShippedText;
import org.springframework.core.io.ClassPathResource;
import org.springframework.stereotype.Component;

/** The cautions of shared/reference/cautions.csv that stand beside work which can hurt. */
@Component
public class Cautions {

    private final Map<String, String> texts = new LinkedHashMap<>();
    private final ShippedText shipped;

    Cautions(ShippedText shipped) {
        this.shipped = shipped;
        ClassPathResource file = new ClassPathResource("reference/cautions.csv");
        CSVFormat format = CSVFormat.DEFAULT
                .builder()
                .setHeader()
                .setSkipHeaderRecord(true)
                .get();
        try (Reader reader = new InputStreamReader(file.getInputStream(), StandardCharsets.UTF_8)) {
            for (CSVRecord line : format.parse(reader)) {
                texts.put(line.get("code"), line.get("caution"));
            }
        } catch (IOException e) {
            throw new UncheckedIOException(e);
        }
    }

    /** Texts by code. */
    public Map<String, String> all() {
        Map<String, String> shown = new LinkedHashMap<>();
        texts.forEach((code, text) -> shown.put(code, shipped.text("reference.caution." + code, text)));
        return Collections.unmodifiableMap(shown);
    }
}
