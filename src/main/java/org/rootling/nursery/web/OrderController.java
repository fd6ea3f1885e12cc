package org.rootling.nursery.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock;
import org.rootling.nursery.Stock.NewOrder;
import org.rootling.nursery.Stock.NewOrderLine;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.nursery.domain.NurseryViews.OrderLineView;
import org.rootling.nursery.domain.NurseryViews.OrderView;
import org.rootling.nursery.domain.ReferenceLists;
import org.rootling.nursery.domain.StockKeeping;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.InitBinder;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Orders with nurseries. */
@Controller
@RequestMapping("/v/{vineyard}/orders")
class OrderController {

    private static final int SPARE_LINES = 3;

    /** A line of an order as typed; one without variety and number is left out. */
    record LineForm(
            @Size(max = 60) @Nullable String variety,
            @Size(max = 40) @Nullable String cloneName,
            @Size(max = 60) @Nullable String rootstock,
            @Size(max = 20) @Nullable String vines,
            @Size(max = 20) @Nullable String priceEach,
            @Size(max = 20) @Nullable String expectedWeek) {

        boolean isBlank() {
            return (variety == null || variety.isBlank()) && (vines == null || vines.isBlank());
        }
    }

    /** An order as typed. */
    record OrderForm(
            @Size(max = 40) @Nullable String supplierId,
            @NotBlank @Size(max = 40) @Nullable String reference,
            @Size(max = 20) @Nullable String orderedOn,

            @Pattern(regexp = "[A-Z]{3}", message = "{nursery.order.currency-three-letters}") @Nullable
            String currency,

            @Size(max = 1000) @Nullable String note,
            @Valid @Size(max = 100) @Nullable List<@Nullable LineForm> lines,
            @Size(max = 10) @Nullable String version) {}

    private final Stock stock;
    private final StockKeeping keeping;
    private final NurseryViews views;
    private final ReferenceLists lists;
    private final Vineyards vineyards;

    OrderController(Stock stock, StockKeeping keeping, NurseryViews views, ReferenceLists lists, Vineyards vineyards) {
        this.stock = stock;
        this.keeping = keeping;
        this.views = views;
        this.lists = lists;
        this.vineyards = vineyards;
    }

    @InitBinder("form")
    void requireSaneLines(HttpServletRequest request) {
        Typed.requireSaneLines(request);
    }

    @GetMapping
    @Needs(Role.READER)
    String orders(Model model) {
        model.addAttribute("orders", views.orders());
        model.addAttribute("deliveries", views.deliveries());
        return "nursery/orders";
    }

    @GetMapping("/{id}")
    @Needs(Role.READER)
    String order(@PathVariable UUID id, Model model) {
        model.addAttribute("order", views.order(id));
        model.addAttribute(
                "deliveries",
                views.deliveries().stream().filter(d -> id.equals(d.orderId())).toList());
        return "nursery/order";
    }

    @GetMapping("/new")
    @Needs(Role.LEAD)
    String newOrder(Model model) {
        OrderForm form = model.getAttribute("form") instanceof OrderForm sent
                ? sent
                : new OrderForm("", "", vineyards.today().toString(), "EUR", "", List.of(), "");
        return form(form, null, model);
    }

    private String form(OrderForm form, @Nullable OrderView order, Model model) {
        if (!model.containsAttribute("form")) {
            List<@Nullable LineForm> lines = new ArrayList<>(form.lines() == null ? List.of() : form.lines());
            for (int i = 0; i < SPARE_LINES; i++) {
                lines.add(new LineForm("", "", "", "", "", ""));
            }
            model.addAttribute(
                    "form",
                    new OrderForm(
                            form.supplierId(),
                            form.reference(),
                            form.orderedOn(),
                            form.currency(),
                            form.note(),
                            lines,
                            form.version()));
        }
        if (order != null) {
            model.addAttribute("order", order);
        }
        model.addAttribute("suppliers", suppliers());
        model.addAttribute("varieties", lists.varieties());
        model.addAttribute("rootstocks", lists.rootstocks());
        return "nursery/order-form";
    }

    private Map<String, String> suppliers() {
        Map<String, String> choices = new LinkedHashMap<>();
        views.suppliers().forEach(s -> choices.put(s.id().toString(), s.name()));
        return choices;
    }

    @PostMapping("/new")
    @Needs(Role.LEAD)
    String placeOrder(@Valid @ModelAttribute("form") OrderForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> "redirect:" + Paths.to("/orders/" + stock.order(order(form))),
                () -> form(form, null, model));
    }

    @GetMapping("/{id}/change")
    @Needs(Role.LEAD)
    String changeForm(@PathVariable UUID id, Model model) {
        OrderView now = views.order(id);
        List<@Nullable LineForm> lines =
                new ArrayList<>(now.lines().stream().map(OrderController::line).toList());
        OrderForm form = new OrderForm(
                now.supplierId().toString(),
                now.reference(),
                now.orderedOn().toString(),
                now.currency(),
                now.note(),
                lines,
                Integer.toString(now.version()));
        return form(form, now, model);
    }

    private static LineForm line(OrderLineView l) {
        LocalDate week = l.expectedWeek();
        return new LineForm(
                l.variety(),
                l.cloneName(),
                l.rootstock(),
                Integer.toString(l.vines()),
                l.price(),
                week == null ? "" : week.toString());
    }

    @PostMapping("/{id}/change")
    @Needs(Role.LEAD)
    String change(
            @PathVariable UUID id, @Valid @ModelAttribute("form") OrderForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    Integer version = Typed.whole(form.version(), "version", 0, Integer.MAX_VALUE);
                    keeping.change(id, version == null ? -1 : version, order(form));
                    return "redirect:" + Paths.to("/orders/" + id);
                },
                () -> changeForm(id, model));
    }

    @PostMapping("/{id}/confirm")
    @Needs(Role.LEAD)
    String confirm(@PathVariable UUID id, @RequestParam int version) {
        keeping.confirm(id, version);
        return "redirect:" + Paths.to("/orders/" + id);
    }

    @PostMapping("/{id}/cancel")
    @Needs(Role.LEAD)
    String cancel(@PathVariable UUID id, @RequestParam int version) {
        keeping.cancel(id, version);
        return "redirect:" + Paths.to("/orders/" + id);
    }

    private NewOrder order(OrderForm form) {
        List<NewOrderLine> lines = new ArrayList<>();
        List<@Nullable LineForm> sent = form.lines() == null ? List.of() : form.lines();
        for (int i = 0; i < sent.size(); i++) {
            LineForm line = sent.get(i);
            if (line != null && !line.isBlank()) {
                lines.add(line(line, "lines[" + i + "]."));
            }
        }
        return new NewOrder(
                Needed.of(Typed.id(form.supplierId()), "supplierId"),
                Needed.of(form.reference(), "reference"),
                Needed.of(Typed.day(form.orderedOn(), "orderedOn"), "orderedOn"),
                Needed.of(form.currency(), "currency"),
                form.note(),
                lines);
    }

    private static NewOrderLine line(LineForm line, String path) {
        String variety = line.variety();
        String rootstock = line.rootstock();
        Integer vines = Typed.whole(line.vines(), path + "vines", 1, 1_000_000);
        if (variety == null || variety.isBlank()) {
            throw new Refused("nursery.line.variety-missing").at(path + "variety");
        }
        if (rootstock == null || rootstock.isBlank()) {
            throw new Refused("nursery.line.rootstock-missing").at(path + "rootstock");
        }
        if (vines == null) {
            throw new Refused("nursery.line.vines-missing").at(path + "vines");
        }
        return new NewOrderLine(
                variety,
                line.cloneName(),
                rootstock,
                vines,
                Typed.price(line.priceEach(), path + "priceEach"),
                Typed.day(line.expectedWeek(), path + "expectedWeek"));
    }
}
