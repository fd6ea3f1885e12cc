package org.rootling.trellis.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Digits;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Pattern;
import jakarta.validation.constraints.Size;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.net.URLEncoder;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.SaneDate;
import org.rootling.trellis.calc.Item;
import org.rootling.trellis.calc.OrderLine;
import org.rootling.trellis.domain.OrderBook;
import org.rootling.trellis.domain.OrderSheet;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The order sheet over any mix of blocks, how each thing is sold, and what was bought. */
@Controller
@RequestMapping("/v/{vineyard}/trellis/order")
class OrderController {
    /** Blocks, delivery and currency of a sheet. */
    record SheetForm(
            @Nullable @Size(max = 500) List<@Size(max = 60) String> block,

            @Nullable @DecimalMin("0") @DecimalMax("10000000") @Digits(integer = 8, fraction = 2)
            BigDecimal delivery,

            @Nullable @Pattern(regexp = "|[A-Z]{3}", message = "{trellis.order.currency-form}")
            String currency) {
        /** Null where none was typed. */
        @Nullable
        String money() {
            return currency == null || currency.isEmpty() ? null : currency;
        }

        List<String> codes() {
            return block == null ? List.of() : block;
        }
    }

    /** How a thing is sold; the pack in the reader's unit. */
    record TermsForm(
            @Nullable @NotNull @DecimalMin("0.001") @DecimalMax("100000") @Digits(integer = 6, fraction = 3)
            BigDecimal packSize,

            @Nullable @DecimalMin("0") @DecimalMax("1000000") @Digits(integer = 7, fraction = 2)
            BigDecimal packPrice,

            @Nullable @NotNull @DecimalMin("0") @DecimalMax("100") @Digits(integer = 3, fraction = 2)
            BigDecimal sparePercent) {}

    /** A purchase; the quantity in the reader's unit. */
    record BoughtForm(
            @Nullable @NotNull @DecimalMin("0.001") @DecimalMax("10000000") @Digits(integer = 8, fraction = 3)
            BigDecimal quantity,

            @Nullable @NotNull @SaneDate LocalDate on,

            @Nullable @DecimalMin("0") @DecimalMax("10000000") @Digits(integer = 8, fraction = 2)
            BigDecimal paid,

            @Nullable @Size(max = 60) String block,
            @Nullable @Size(max = 200) String note) {}

    private final OrderBook book;
    private final Ground ground;
    private final Members members;
    private final Vineyards vineyards;
    private final Words words;

    OrderController(OrderBook book, Ground ground, Members members, Vineyards vineyards, Words words) {
        this.book = book;
        this.ground = ground;
        this.members = members;
        this.vineyards = vineyards;
        this.words = words;
    }

    @GetMapping
    @Needs(Role.READER)
    String sheet(@Valid @ModelAttribute("form") SheetForm form, BindingResult errors, Model model) {
        return sheet(errors.hasErrors() ? new SheetForm(null, null, null) : form, model);
    }

    private static @Nullable BigDecimal quantity(OrderSheet.Line line, @Nullable BigDecimal quantity) {
        return quantity == null ? null : plain(Words.shown(line.order().item(), quantity));
    }

    /** Without trailing zeros; money keeps its two decimals. */
    private static BigDecimal plain(BigDecimal value) {
        return value.signum() == 0 ? BigDecimal.ZERO : value.stripTrailingZeros();
    }

    private String sheet(SheetForm form, Model model) {
        OrderSheet sheet = book.sheet(form.codes(), form.delivery(), form.money());
        model.addAttribute("sheet", sheet);
        model.addAttribute(
                "lines",
                Listing.of("order", sheet.lines())
                        .by("trellis.order.head.item", l -> words.name(l.order().item()))
                        .by("trellis.order.head.unit", l -> words.unit(l.order().item()))
                        .by(
                                "trellis.order.head.plans-need",
                                l -> quantity(
                                        l,
                                        BigDecimal.valueOf(l.order().item().quantity())
                                                .setScale(2, RoundingMode.HALF_UP)))
                        .by(
                                "trellis.order.head.spare",
                                l -> plain(l.order().terms().sparePercent()))
                        .by(
                                "trellis.order.head.needed",
                                l -> quantity(l, l.order().needed()))
                        .by("trellis.order.head.change", l -> quantity(l, l.change()))
                        .by(
                                "trellis.order.head.bought",
                                l -> quantity(l, l.order().bought()))
                        .by(
                                "trellis.order.head.to-buy",
                                l -> quantity(l, l.order().toBuy()))
                        .by(
                                "trellis.order.head.pack",
                                l -> quantity(l, l.order().terms().packSize()))
                        .by("trellis.order.head.packs", l -> l.order().packs())
                        .by("trellis.order.head.price", l -> l.order().terms().packPrice())
                        .by("trellis.order.head.cost", l -> l.order().cost())
                        .sum(words.say("trellis.order.delivery"), sheet.delivery())
                        .sum(total(sheet), sheet.totalKnown() ? sheet.total() : null));
        model.addAttribute("planned", sheet.planned());
        model.addAttribute(
                "chosen",
                sheet.blocks().stream().map(Block::code).collect(Collectors.toCollection(LinkedHashSet::new)));
        OrderSheet.Kept kept = sheet.kept();
        model.addAttribute("keptBy", kept == null ? null : members.name(kept.by()));
        return "trellis/order";
    }

    private String total(OrderSheet sheet) {
        String total = sheet.unpriced() == 0
                ? words.say("trellis.order.total")
                : words.say("trellis.order.total-without", sheet.unpriced());
        return sheet.currency() == null ? total : total + ", " + sheet.currency();
    }

    /** Keeps the sheet as it stands, to compare with later. */
    @PostMapping("/keep")
    @Needs(Role.LEAD)
    String keep(@Valid @ModelAttribute("form") SheetForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    BigDecimal delivery = form.delivery();
                    book.keep(form.codes(), delivery == null ? BigDecimal.ZERO : delivery, form.money());
                    return "redirect:" + Paths.to("/trellis/order?saved");
                },
                () -> sheet(new SheetForm(null, null, null), model));
    }

    @GetMapping("/item")
    @Needs(Role.READER)
    String item(@RequestParam String key, Model model) {
        Item item = item(key);
        model.addAttribute("terms", terms(item));
        model.addAttribute("bought", new BoughtForm(null, vineyards.today(), null, null, null));
        return itemPage(item, model);
    }

    private TermsForm terms(Item item) {
        OrderLine.Terms terms = book.terms(item);
        return new TermsForm(Words.shown(item, terms.packSize()), terms.packPrice(), terms.sparePercent());
    }

    private String itemPage(Item item, Model model) {
        model.addAttribute("item", item);
        model.addAttribute("itemName", words.name(item));
        model.addAttribute("itemUnit", words.unit(item));
        Map<String, String> choices = new LinkedHashMap<>();
        Map<UUID, String> codes = new LinkedHashMap<>();
        for (Block block : ground.blocks()) {
            choices.put(block.code(), block.code() + " " + block.name());
            codes.put(block.id(), block.code());
        }
        model.addAttribute("blocks", choices);
        model.addAttribute("codes", codes);
        model.addAttribute("needs", book.needs(item));
        model.addAttribute("purchases", book.purchases(item));
        return "trellis/item";
    }

    @PostMapping("/terms")
    @Needs(Role.LEAD)
    String sell(
            @RequestParam String key,
            @Valid @ModelAttribute("terms") TermsForm form,
            BindingResult errors,
            Model model) {
        Item item = item(key);
        return Forms.submit(
                errors,
                () -> {
                    book.sell(
                            item,
                            new OrderLine.Terms(
                                    Words.kept(item, Objects.requireNonNull(form.packSize())),
                                    form.packPrice(),
                                    Objects.requireNonNull(form.sparePercent())));
                    return "redirect:" + Paths.to("/trellis/order/item?saved&key=" + encoded(item));
                },
                () -> {
                    model.addAttribute("bought", new BoughtForm(null, vineyards.today(), null, null, null));
                    return itemPage(item, model);
                });
    }

    @PostMapping("/bought")
    @Needs(Role.LEAD)
    String buy(
            @RequestParam String key,
            @Valid @ModelAttribute("bought") BoughtForm form,
            BindingResult errors,
            Model model) {
        Item item = item(key);
        return Forms.submit(
                errors,
                () -> {
                    book.buy(
                            item,
                            form.block(),
                            Words.kept(item, Objects.requireNonNull(form.quantity())),
                            Objects.requireNonNull(form.on()),
                            form.paid(),
                            form.note());
                    return "redirect:" + Paths.to("/trellis/order/item?saved&key=" + encoded(item));
                },
                () -> {
                    model.addAttribute("terms", terms(item));
                    return itemPage(item, model);
                });
    }

    @PostMapping("/bought/{id}/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@PathVariable UUID id, @RequestParam String key) {
        book.withdraw(id);
        return "redirect:" + Paths.to("/trellis/order/item?saved&key=" + encoded(item(key)));
    }

    private static String encoded(Item item) {
        return URLEncoder.encode(item.key(), StandardCharsets.UTF_8);
    }

    private static Item item(String key) {
        return Item.ofKey(key).orElseThrow(() -> new NotFound("item"));
    }
}
