package org.rootling.training.web;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.rootling.platform.MarkupWriter;
import org.rootling.training.CareItem;
import org.rootling.training.CareLine;

/** Items of the checklist to tick, each a box and its name; written here, since a row's page has dozens of them. */
final class TickBoxes {
    private TickBoxes() {}

    /** @param names of the items as the reader sees them */
    static String of(List<CareLine> lines, Map<UUID, String> names, Collection<UUID> ticked) {
        MarkupWriter out = new MarkupWriter();
        for (CareLine line : lines) {
            CareItem item = line.item();
            String id = "item-" + item.code();
            String checked = ticked.contains(item.id()) ? "checked" : null;
            out.open("div", "class", "field check")
                    .open(
                            "input",
                            "type",
                            "checkbox",
                            "name",
                            "items",
                            "id",
                            id,
                            "value",
                            item.id(),
                            "checked",
                            checked)
                    .text("label", names.getOrDefault(item.id(), item.name()), "for", id)
                    .close("div");
        }
        return out.toString();
    }
}
