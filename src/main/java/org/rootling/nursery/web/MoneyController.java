package org.rootling.nursery.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.nursery.domain.NurseryViews.DeliveryLineView;
import org.rootling.nursery.domain.NurseryViews.DeliveryView;
import org.rootling.nursery.domain.OrderKeeping;
import org.rootling.nursery.domain.OrderKeeping.Bill;
import org.rootling.nursery.domain.OrderKeeping.BilledLine;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Paths;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** What the papers of a delivery say, which often come later than the vines: numbers, prices, credit. */
@Controller
@RequestMapping("/v/{vineyard}/deliveries/{id}/money")
class MoneyController {

    /** The papers as typed. */
    record MoneyForm(
            @Size(max = 40) @Nullable String deliveryNoteNo,
            @Size(max = 40) @Nullable String invoiceNo,

            @Pattern(regexp = "[A-Z]{3}", message = "{nursery.order.currency-three-letters}") @Nullable
            String currency,

            @Valid @Size(max = 100) @Nullable List<@Nullable MoneyLine> lines,
            @Size(max = 10) @Nullable String version) {}

    /** The money of one delivery line as typed. */
    record MoneyLine(
            @Size(max = 40) @Nullable String id,
            @Size(max = 20) @Nullable String billed,
            @Size(max = 20) @Nullable String priceEach,
            @Size(max = 20) @Nullable String credited,
            @Size(max = 200) @Nullable String creditNote) {}

    private final OrderKeeping keeping;
    private final NurseryViews views;

    MoneyController(OrderKeeping keeping, NurseryViews views) {
        this.keeping = keeping;
        this.views = views;
    }

    @InitBinder("form")
    void requireSaneLines(HttpServletRequest request) {
        Typed.requireSaneLines(request);
    }

    @GetMapping
    @Needs(Role.LEAD)
    String form(@PathVariable UUID id, Model model) {
        DeliveryView delivery = views.delivery(id);
        model.addAttribute(
                "form",
                new MoneyForm(
                        delivery.deliveryNoteNo(),
                        delivery.invoiceNo(),
                        delivery.currency(),
                        new ArrayList<>(delivery.lines().stream()
                                .map(MoneyController::line)
                                .toList()),
                        Integer.toString(delivery.version())));
        model.addAttribute("delivery", delivery);
        return "nursery/money";
    }

    private static MoneyLine line(DeliveryLineView line) {
        return new MoneyLine(
                line.id().toString(),
                Objects.toString(line.billed(), ""),
                plain(line.ownPrice()),
                plain(line.credited()),
                line.creditNote());
    }

    private static String plain(@Nullable BigDecimal amount) {
        return amount == null ? "" : amount.toPlainString();
    }

    @PostMapping
    @Needs(Role.LEAD)
    String save(
            @PathVariable UUID id, @Valid @ModelAttribute("form") MoneyForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    Integer version = Typed.whole(form.version(), "version", 0, Integer.MAX_VALUE);
                    keeping.bill(id, version == null ? -1 : version, bill(form));
                    return "redirect:" + Paths.to("/deliveries/" + id);
                },
                () -> {
                    model.addAttribute("delivery", views.delivery(id));
                    return "nursery/money";
                });
    }

    private static Bill bill(MoneyForm form) {
        List<BilledLine> lines = new ArrayList<>();
        List<@Nullable MoneyLine> sent = form.lines() == null ? List.of() : form.lines();
        for (int i = 0; i < sent.size(); i++) {
            MoneyLine line = sent.get(i);
            if (line != null) {
                String field = "lines[" + i + "].";
                lines.add(new BilledLine(
                        field,
                        Needed.of(Typed.id(line.id()), field + "id"),
                        Typed.whole(line.billed(), field + "billed", 0, 1_000_000),
                        Typed.price(line.priceEach(), field + "priceEach"),
                        Typed.amount(line.credited(), field + "credited"),
                        line.creditNote()));
            }
        }
        return new Bill(form.deliveryNoteNo(), form.invoiceNo(), Needed.of(form.currency(), "currency"), lines);
    }
}
