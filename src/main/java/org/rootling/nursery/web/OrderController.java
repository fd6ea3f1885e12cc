package org.rootling.nursery.web;

import jakarta.servlet.http.HttpServletRequest;
import jakarta.validation.Valid;
import java.util.LinkedHashMap;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Stock;
import org.rootling.nursery.domain.Costs;
import org.rootling.nursery.domain.NurseryViews;
import org.rootling.nursery.domain.NurseryViews.OrderView;
import org.rootling.nursery.domain.OrderKeeping;
import org.rootling.nursery.domain.ReferenceLists;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
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
import org.springframework.web.bind.annotation.RequestParam;

/** Orders with nurseries. */
@Controller
@RequestMapping("/v/{vineyard}/orders")
class OrderController {

    private final Stock stock;
    private final OrderKeeping keeping;
    private final NurseryViews views;
    private final Costs costs;
    private final ReferenceLists lists;
    private final Vineyards vineyards;

    OrderController(
            Stock stock,
            OrderKeeping keeping,
            NurseryViews views,
            Costs costs,
            ReferenceLists lists,
            Vineyards vineyards) {
        this.stock = stock;
        this.keeping = keeping;
        this.views = views;
        this.costs = costs;
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
        model.addAttribute(
                "orders",
                Listing.of("orders", views.orders())
                        .by("nursery.orders.reference", o -> o.reference())
                        .by("nursery.lot.nursery", o -> o.supplier())
                        .by("nursery.orders.on", o -> o.orderedOn())
                        .by("nursery.orders.status", o -> new Listing.Word("nursery.orders.status." + o.status()))
                        .by("nursery.orders.vines", o -> o.vines())
                        .by("nursery.orders.came", o -> o.came()));
        model.addAttribute(
                "deliveries",
                Listing.of("deliveries", views.deliveries())
                        .by("nursery.list.received", d -> d.receivedOn())
                        .by("nursery.lot.nursery", d -> d.supplier())
                        .by("nursery.orders.reference", d -> d.orderReference())
                        .by("nursery.list.delivery-note", d -> d.deliveryNoteNo()));
        return "nursery/orders";
    }

    @GetMapping("/{id}")
    @Needs(Role.READER)
    String order(@PathVariable UUID id, Model model) {
        OrderView order = views.order(id);
        model.addAttribute("order", order);
        model.addAttribute(
                "lines",
                Listing.of("lines", order.lines())
                        .by("nursery.list.variety", l -> l.variety())
                        .by("nursery.list.clone", l -> l.cloneName())
                        .by("nursery.list.rootstock", l -> l.rootstock())
                        .by("nursery.orders.vines", l -> l.vines())
                        .by("nursery.orders.came", l -> l.came())
                        .by("nursery.order.open", l -> l.open())
                        .by("nursery.order.price", l -> l.priceEach())
                        .by("nursery.order.currency", l -> l.priceEach() == null ? null : order.currency())
                        .by("nursery.order.week", l -> l.expectedWeek()));
        model.addAttribute(
                "unlisted",
                order.lines().stream()
                        .filter(line -> !line.ended())
                        .map(line -> line.variety())
                        .filter(variety -> lists.colour(variety).isEmpty())
                        .distinct()
                        .toList());
        model.addAttribute("costs", Costs.sums(costs.ofOrder(id)));
        model.addAttribute(
                "deliveries",
                views.deliveries().stream().filter(d -> id.equals(d.orderId())).toList());
        return "nursery/order";
    }

    @GetMapping("/new")
    @Needs(Role.LEAD)
    String newOrder(Model model) {
        model.addAttribute("form", OrderForm.blank(vineyards.today()));
        return form(null, model);
    }

    @PostMapping("/new")
    @Needs(Role.LEAD)
    String placeOrder(@Valid @ModelAttribute("form") OrderForm form, BindingResult errors, Model model) {
        return Forms.submit(errors, () -> to(stock.order(form.order())), () -> form(null, model));
    }

    @GetMapping("/{id}/change")
    @Needs(Role.LEAD)
    String changeForm(@PathVariable UUID id, Model model) {
        OrderView now = views.order(id);
        model.addAttribute("form", OrderForm.of(now));
        return form(now, model);
    }

    @PostMapping("/{id}/change")
    @Needs(Role.LEAD)
    String change(
            @PathVariable UUID id, @Valid @ModelAttribute("form") OrderForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    Integer version = Typed.whole(form.version(), "version", 0, Integer.MAX_VALUE);
                    keeping.change(id, version == null ? -1 : version, form.order(), form.changes());
                    return to(id);
                },
                () -> form(views.order(id), model));
    }

    private String form(@Nullable OrderView order, Model model) {
        if (order != null) {
            model.addAttribute("order", order);
        }
        Map<String, String> suppliers = new LinkedHashMap<>();
        views.suppliers().forEach(s -> suppliers.put(s.id().toString(), s.name()));
        model.addAttribute("suppliers", suppliers);
        model.addAttribute("varieties", lists.varieties());
        model.addAttribute("rootstocks", lists.rootstocks());
        return "nursery/order-form";
    }

    @PostMapping("/{id}/confirm")
    @Needs(Role.LEAD)
    String confirm(@PathVariable UUID id, @RequestParam int version) {
        keeping.confirm(id, version);
        return to(id);
    }

    @PostMapping("/{id}/cancel")
    @Needs(Role.LEAD)
    String cancel(@PathVariable UUID id, @RequestParam int version) {
        keeping.cancel(id, version);
        return to(id);
    }

    private static String to(UUID order) {
        return "redirect:" + Paths.to("/orders/" + order);
    }
}
