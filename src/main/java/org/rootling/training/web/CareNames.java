package org.rootling.training.web;

import java.util.Collection;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import org.rootling.platform.ShippedText;
import org.rootling.training.CareItem;
import org.springframework.stereotype.Component;

/** Items of the checklist by their names in the reader's language; as it is written where a vineyard wrote it itself. */
@Component
class CareNames {
    private final ShippedText shipped;

    CareNames(ShippedText shipped) {
        this.shipped = shipped;
    }

    String of(CareItem item) {
        return shipped.text("reference.care." + item.code() + ".name", item.name());
    }

    /** By the ids of the items, in their order. */
    Map<UUID, String> of(Collection<CareItem> items) {
        Map<UUID, String> names = new LinkedHashMap<>();
        items.forEach(item -> names.put(item.id(), of(item)));
        return names;
    }
}
