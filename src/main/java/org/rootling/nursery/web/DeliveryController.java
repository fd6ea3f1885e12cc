package org.rootling.nursery.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import jakarta.validation.constraints.Size;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Stock;
import org.rootling.nursery.Stock.ArrivalCheck;
import org.rootling.nursery.Stock.Found;
import org.rootling.nursery.Stock.NewDelivery;
import org.rootling.nursery.Stock.NewDeliveryLine;
import org.rootling.nursery.Stock.Passport;
import org.rootling.nursery.domain.Costs;
import org.rootling.nursery.domain.KeptPapers;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.nursery.domain.NurseryViews.OrderLineView;
import org.rootling.nursery.domain.NurseryViews.OrderView;
import org.rootling.nursery.domain.NurseryViews.SupplierView;
import org.rootling.nursery.domain.OrderStatus;
import org.rootling.nursery.domain.ReferenceLists;
import org.rootling.people.Members;
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

/** Taking deliveries in: counting, looking, papers. */
@Controller
@RequestMapping("/v/{vineyard}/deliveries")
class DeliveryController {

    private static final int MOST_LINES = 100;

    /** A line as typed; one without any vines is left out. */
    record LineForm(
            @Size(max = 40) @Nullable String orderLineId,
            @Size(max = 60) @Nullable String variety,
            @Size(max = 40) @Nullable String cloneName,
            @Size(max = 60) @Nullable String rootstock,
            @Size(max = 20) @Nullable String bundles,
            @Size(max = 20) @Nullable String bundleSize,
            @Size(max = 20) @Nullable String loose,
            @Size(max = 20) @Nullable String billed,
            @Size(max = 20) @Nullable String rejected,
            @Size(max = 300) @Nullable String rejectReason,
            @Size(max = 20) @Nullable String roots,
            @Size(max = 20) @Nullable String graft,
            @Size(max = 20) @Nullable String wax,
            @Size(max = 20) @Nullable String mould,
            @Size(max = 20) @Nullable String dryness,
            @Size(max = 20) @Nullable String label,
            @Size(max = 80) @Nullable String botanical,
            @Size(max = 40) @Nullable String registration,
            @Size(max = 60) @Nullable String trace,
            @Size(max = 40) @Nullable String origin,
            @Size(max = 80) @Nullable String extra) {

        boolean isBlank() {
            boolean noVines = (bundles == null || bundles.isBlank()) && (loose == null || loose.isBlank());
            boolean answers = orderLineId != null && !orderLineId.isBlank();
            return noVines && (answers || variety == null || variety.isBlank());
        }
    }

    /** A delivery as typed. */
    record DeliveryForm(
            @Size(max = 40) @Nullable String supplierId,
            @Size(max = 40) @Nullable String orderId,
            @Size(max = 20) @Nullable String receivedOn,
            @Size(max = 20) @Nullable String daysInTransit,
            @Size(max = 40) @Nullable String deliveryNoteNo,
            @Size(max = 40) @Nullable String invoiceNo,
            @Size(max = 1000) @Nullable String note,
            @Valid @Size(max = MOST_LINES) @Nullable List<@Nullable LineForm> lines) {}

    private final Stock stock;
    private final NurseryViews views;
    private final Costs costs;
    private final KeptPapers keptPapers;
    private final ReferenceLists lists;
    private final Members members;
    private final Vineyards vineyards;
    private final Choices choices;

    DeliveryController(
            Stock stock,
            NurseryViews views,
            Costs costs,
            KeptPapers keptPapers,
            ReferenceLists lists,
            Members members,
            Vineyards vineyards,
            Choices choices) {
        this.stock = stock;
        this.views = views;
        this.costs = costs;
        this.keptPapers = keptPapers;
        this.lists = lists;
        this.members = members;
        this.vineyards = vineyards;
        this.choices = choices;
    }

    @InitBinder("form")
    void requireSaneLines(HttpServletRequest request) {
        Typed.requireSaneLines(request);
    }

    @GetMapping("/{id}")
    @Needs(Role.READER)
    String delivery(@PathVariable UUID id, Model model) {
        model.addAttribute("delivery", views.delivery(id));
        model.addAttribute("kept", keptPapers.ofDelivery(id));
        model.addAttribute("costs", costs.ofDelivery(id));
        model.addAttribute("names", members.names());
        return "nursery/delivery";
    }

    @GetMapping("/new")
    @Needs(Role.LEAD)
    String newDelivery(
            @RequestParam(required = false) @Nullable UUID order,
            @RequestParam(required = false) @Nullable UUID supplier,
            Model model) {
        List<@Nullable LineForm> lines = new ArrayList<>();
        UUID supplierId = supplier;
        int bundle = bundleSize(supplierId);
        if (order != null) {
            OrderView ordered = views.order(order);
            supplierId = ordered.supplierId();
            bundle = bundleSize(supplierId);
            for (OrderLineView line : ordered.lines()) {
                if (line.open() > 0) {
                    lines.add(blank(line, bundle));
                }
            }
        }
        lines.add(blank(null, bundle));
        if (order == null) {
            lines.add(blank(null, bundle));
        }
        return form(
                new DeliveryForm(
                        supplierId == null ? "" : supplierId.toString(),
                        order == null ? "" : order.toString(),
                        vineyards.today().toString(),
                        "",
                        "",
                        "",
                        "",
                        lines),
                model);
    }

    private int bundleSize(@Nullable UUID supplierId) {
        return views.suppliers().stream()
                .filter(s -> s.id().equals(supplierId))
                .map(SupplierView::bundleSize)
                .findFirst()
                .orElse(25);
    }

    private static LineForm blank(@Nullable OrderLineView line, int bundle) {
        String notLooked = Found.NOT_LOOKED.name();
        return new LineForm(
                line == null ? "" : line.id().toString(),
                line == null ? "" : line.variety(),
                line == null ? "" : line.cloneName(),
                line == null ? "" : line.rootstock(),
                "",
                Integer.toString(bundle),
                "",
                "",
                "",
                "",
                notLooked,
                notLooked,
                notLooked,
                notLooked,
                notLooked,
                notLooked,
                "Vitis vinifera",
                "",
                "",
                "",
                "");
    }

    private String form(DeliveryForm form, Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", form);
        }
        Map<String, String> suppliers = new LinkedHashMap<>();
        views.suppliers().forEach(s -> suppliers.put(s.id().toString(), s.name()));
        Map<String, String> orderLines = new LinkedHashMap<>();
        Map<String, String> orders = new LinkedHashMap<>();
        for (OrderView order : views.orders()) {
            if (order.status() != OrderStatus.CANCELLED) {
                orders.put(order.id().toString(), order.reference() + " · " + order.supplier());
                if (order.id().toString().equals(form.orderId())) {
                    order.lines().stream()
                            .filter(l -> !l.ended())
                            .forEach(l -> orderLines.put(
                                    l.id().toString(),
                                    choices.words(
                                            "nursery.delivery.order-line",
                                            l.lineNo(),
                                            l.variety(),
                                            l.rootstock(),
                                            l.vines(),
                                            l.came() + l.other())));
                }
            }
        }
        model.addAttribute("suppliers", suppliers);
        model.addAttribute("orders", orders);
        model.addAttribute("orderLines", orderLines);
        model.addAttribute("found", choices.of("nursery.found.", Found.values()));
        model.addAttribute("varieties", lists.varieties());
        model.addAttribute("rootstocks", lists.rootstocks());
        return "nursery/delivery-form";
    }

    @PostMapping("/new")
    @Needs(Role.LEAD)
    String take(@Valid @ModelAttribute("form") DeliveryForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    List<Lot> lots = stock.receive(delivery(form));
                    return "redirect:"
                            + Paths.to("/deliveries/"
                                    + views.papers(lots.get(0).id()).deliveryId());
                },
                () -> form(form, model));
    }

    private NewDelivery delivery(DeliveryForm form) {
        List<NewDeliveryLine> lines = new ArrayList<>();
        List<@Nullable LineForm> sent = form.lines() == null ? List.of() : form.lines();
        for (int i = 0; i < sent.size(); i++) {
            LineForm line = sent.get(i);
            if (line != null && !line.isBlank()) {
                lines.add(line(line, "lines[" + i + "]."));
            }
        }
        return new NewDelivery(
                Needed.of(Typed.id(form.supplierId()), "supplierId"),
                Typed.id(form.orderId()),
                Needed.of(Typed.day(form.receivedOn(), "receivedOn"), "receivedOn"),
                Typed.whole(form.daysInTransit(), "daysInTransit", 0, 60),
                form.deliveryNoteNo(),
                form.invoiceNo(),
                form.note(),
                lines);
    }

    private static NewDeliveryLine line(LineForm line, String path) {
        String variety = Typed.needed(line.variety(), "nursery.line.variety-missing", path + "variety");
        String rootstock = Typed.needed(line.rootstock(), "nursery.line.rootstock-missing", path + "rootstock");
        int bundles = orZero(Typed.whole(line.bundles(), path + "bundles", 0, 40_000));
        Integer typedSize = Typed.whole(line.bundleSize(), path + "bundleSize", 1, 1000);
        int size = typedSize == null ? 25 : typedSize;
        int loose = orZero(Typed.whole(line.loose(), path + "loose", 0, 1_000_000));
        long counted = (long) bundles * size + loose;
        int rejected = orZero(Typed.whole(line.rejected(), path + "rejected", 0, 1_000_000));
        if (counted < 1) {
            throw new Refused("nursery.delivery.no-vines").at(path + "bundles");
        }
        if (counted > 1_000_000) {
            throw new Refused("nursery.delivery.too-many-vines").at(path + "bundles");
        }
        if (rejected > counted) {
            throw new Refused("nursery.delivery.rejected-too-many", rejected, counted).at(path + "rejected");
        }
        if (rejected > 0 && (line.rejectReason() == null || line.rejectReason().isBlank())) {
            throw new Refused("nursery.delivery.reject-reason-missing").at(path + "rejectReason");
        }
        return new NewDeliveryLine(
                Typed.id(line.orderLineId()),
                variety,
                line.cloneName(),
                rootstock,
                bundles,
                size,
                loose,
                Typed.whole(line.billed(), path + "billed", 0, 1_000_000),
                rejected,
                line.rejectReason(),
                new ArrivalCheck(
                        found(line.roots(), path + "roots"),
                        found(line.graft(), path + "graft"),
                        found(line.wax(), path + "wax"),
                        found(line.mould(), path + "mould"),
                        found(line.dryness(), path + "dryness"),
                        found(line.label(), path + "label")),
                new Passport(line.botanical(), line.registration(), line.trace(), line.origin(), line.extra()));
    }

    private static int orZero(@Nullable Integer number) {
        return number == null ? 0 : number;
    }

    private static Found found(@Nullable String typed, String field) {
        if (typed == null || typed.isBlank()) {
            return Found.NOT_LOOKED;
        }
        for (Found found : Found.values()) {
            if (found.name().equals(typed)) {
                return found;
            }
        }
        throw new Refused("nursery.act.choose-found").at(field);
    }
}
