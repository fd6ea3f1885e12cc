package org.rootling.training.domain;

import java.util.Collections;
import java.util.LinkedHashMap;
import java.util.Map;
import org.rootling.platform.ShippedData;
import org.rootling.platform.ShippedText;
import org.springframework.stereotype.Component;

/** The cautions of shared/reference/cautions.csv that stand beside work which can hurt. */
@Component
public class Cautions {

    private final Map<String, String> texts = new LinkedHashMap<>();
    private final ShippedText shipped;

    Cautions(ShippedText shipped) {
        this.shipped = shipped;
        ShippedData.lines("cautions.csv").forEach(line -> texts.put(line.get("code"), line.get("caution")));
    }

    /** Texts by code. */
    public Map<String, String> all() {
        Map<String, String> shown = new LinkedHashMap<>();
        texts.forEach((code, text) -> shown.put(code, shipped.text("reference.caution." + code, text)));
        return Collections.unmodifiableMap(shown);
    }
}
