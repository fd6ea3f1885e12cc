package org.rootling.nursery.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock.NewOrder;
import org.rootling.nursery.Stock.NewOrderLine;
import org.rootling.nursery.domain.NurseryViews.OrderLineView;
import org.rootling.nursery.domain.NurseryViews.OrderView;
import org.rootling.nursery.domain.OrderKeeping.LineChange;
import org.rootling.platform.Refused;

/** An order as typed: every field is text until it is read, so that one that cannot be read does not lose the others. */
record OrderForm(
        @Size(max = 40) @Nullable String supplierId,
        @NotBlank @Size(max = 40) @Nullable String reference,
        @Size(max = 20) @Nullable String orderedOn,

        @Pattern(regexp = "[A-Z]{3}", message = "{nursery.order.currency-three-letters}") @Nullable
        String currency,

        @Size(max = 1000) @Nullable String note,
        @Valid @Size(max = 100) @Nullable List<@Nullable Line> lines,
        @Size(max = 10) @Nullable String version) {

    private static final int SPARE_LINES = 3;

    /**
     * A line as typed; a new one without variety and number is left out.
     *
     * @param id of a line that is there already
     * @param end "true" to withdraw the line, or what is still open on it
     */
    record Line(
            @Size(max = 40) @Nullable String id,
            @Size(max = 60) @Nullable String variety,
            @Size(max = 40) @Nullable String cloneName,
            @Size(max = 60) @Nullable String rootstock,
            @Size(max = 20) @Nullable String vines,
            @Size(max = 20) @Nullable String priceEach,
            @Size(max = 20) @Nullable String expectedWeek,
            @Size(max = 10) @Nullable String end) {

        private static final Line BLANK = new Line("", "", "", "", "", "", "", "");

        static Line of(OrderLineView line) {
            return new Line(
                    line.id().toString(),
                    line.variety(),
                    line.cloneName(),
                    line.rootstock(),
                    Integer.toString(line.vines()),
                    line.price(),
                    Objects.toString(line.expectedWeek(), ""),
                    "");
        }

        private boolean isBlank() {
            return Typed.nothing(id) && Typed.nothing(variety) && Typed.nothing(vines);
        }

        private NewOrderLine read(String field) {
            return new NewOrderLine(
                    Typed.needed(variety, "nursery.line.variety-missing", field + "variety"),
                    cloneName,
                    Typed.needed(rootstock, "nursery.line.rootstock-missing", field + "rootstock"),
                    vines(field + "vines"),
                    Typed.price(priceEach, field + "priceEach"),
                    Typed.day(expectedWeek, field + "expectedWeek"));
        }

        private int vines(String field) {
            Integer typed = Typed.whole(vines, field, 1, 1_000_000);
            if (typed == null) {
                throw new Refused("nursery.line.vines-missing").at(field);
            }
            return typed;
        }
    }

    /** A new order. */
    static OrderForm blank(LocalDate today) {
        return new OrderForm("", "", today.toString(), "EUR", "", spare(List.of()), "");
    }

    /** An order to be changed; ended lines stay as they are. */
    static OrderForm of(OrderView order) {
        List<Line> lines = order.lines().stream()
                .filter(line -> !line.ended())
                .map(Line::of)
                .toList();
        return new OrderForm(
                order.supplierId().toString(),
                order.reference(),
                order.orderedOn().toString(),
                order.currency(),
                order.note(),
                spare(lines),
                Integer.toString(order.version()));
    }

    private static List<@Nullable Line> spare(List<Line> lines) {
        List<@Nullable Line> all = new ArrayList<>(lines);
        for (int i = 0; i < (lines.isEmpty() ? SPARE_LINES : 1); i++) {
            all.add(Line.BLANK);
        }
        return all;
    }

    /** The order as it was typed, with the lines that are not ended. */
    NewOrder order() {
        List<NewOrderLine> wanted = new ArrayList<>();
        for (LineChange change : changes()) {
            NewOrderLine to = change.to();
            if (to != null) {
                wanted.add(to);
            }
        }
        return new NewOrder(
                Needed.of(Typed.id(supplierId), "supplierId"),
                Needed.of(reference, "reference"),
                Needed.of(Typed.day(orderedOn, "orderedOn"), "orderedOn"),
                Needed.of(currency, "currency"),
                note,
                wanted);
    }

    /** What becomes of each line. */
    List<LineChange> changes() {
        List<LineChange> changes = new ArrayList<>();
        List<@Nullable Line> sent = lines == null ? List.of() : lines;
        for (int i = 0; i < sent.size(); i++) {
            Line line = sent.get(i);
            if (line != null && !line.isBlank()) {
                String field = "lines[" + i + "].";
                boolean ends = "true".equals(line.end());
                changes.add(new LineChange(field, Typed.id(line.id()), ends ? null : line.read(field)));
            }
        }
        return changes;
    }
}
