package org.rootling.training.domain;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import org.apache.commons.csv.CSVRecord;
import org.rootling.platform.ShippedData;
import org.rootling.platform.ShippedText;
import org.rootling.training.calc.Bbch;
import org.springframework.stereotype.Component;

/** What each growth stage looks like, from shared/reference/growth-stages.csv. */
@Component
public class StageWords {

    private final Map<String, String> words = new LinkedHashMap<>();
    private final ShippedText shipped;

    StageWords(ShippedText shipped) {
        this.shipped = shipped;
        for (CSVRecord line : ShippedData.lines("growth-stages.csv")) {
            Bbch.parse(line.get("code")).ifPresent(stage -> words.put(stage.toString(), line.get("description")));
        }
    }

    /** Code and words of every stage, by two-digit code, in the order of the year. */
    public Map<String, String> all() {
        Map<String, String> shown = new LinkedHashMap<>();
        words.keySet().forEach(code -> shown.put(code, shown(code)));
        return Collections.unmodifiableMap(shown);
    }

    public String of(Bbch stage) {
        return shown(stage.toString());
    }

    private String shown(String code) {
        String text = words.get(code);
        return text == null ? code : code + " " + shipped.text("reference.stage." + code, text);
    }
}
