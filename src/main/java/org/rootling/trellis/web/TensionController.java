package org.rootling.trellis.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.DecimalMax;
import jakarta.validation.constraints.DecimalMin;
import jakarta.validation.constraints.Max;
import jakarta.validation.constraints.Min;
import jakarta.validation.constraints.NotNull;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.Measure;
import org.rootling.platform.Measured;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.rootling.platform.UnitText;
import org.rootling.trellis.calc.Deflection;
import org.rootling.trellis.calc.RowLine;
import org.rootling.trellis.calc.TrellisSpec;
import org.rootling.trellis.calc.Wire;
import org.rootling.trellis.domain.Readings;
import org.rootling.trellis.domain.TrellisPlan;
import org.rootling.trellis.domain.TrellisPlans;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** Measuring wire tension with a spring scale, and when to do it again. */
@Controller
@RequestMapping("/v/{vineyard}/trellis/blocks/{code}/tension")
class TensionController {
    /** Wires settle in their first season and are looked at once a year after (common practice, no source). */
    private static final int AGAIN_MONTHS = 12;

    /** What the scale shows for a wire at its wanted tension. */
    record Target(TrellisSpec.WireLine wire, double spanM, double asideM, double scaleKg) {}

    /** A reading as typed; either the scale's three numbers or the gauge's one. */
    record ReadingForm(
            @Nullable @NotNull UUID row,
            @Nullable @NotNull @Min(0) @Max(19) Integer wire,
            @Nullable @NotNull @SaneDate LocalDate on,

            @Nullable @DecimalMin("0.01") @DecimalMax("200") @Measured(Measure.KILOGRAM)
            Double scaleKg,

            @Nullable @DecimalMin("0.5") @DecimalMax("100") @Measured(Measure.CENTIMETRE)
            Double asideCm,

            @Nullable @DecimalMin("0.5") @DecimalMax("30") @Measured(Measure.METRE)
            Double spanM,

            @Nullable @DecimalMin("1") @DecimalMax("100000") @Measured(Measure.NEWTON)
            Double tensionN,

            @Nullable @DecimalMin("-40") @DecimalMax("55") @Measured(Measure.CELSIUS)
            Double temperatureC,

            @Nullable @SaneDate LocalDate due) {}

    private final Readings readings;
    private final TrellisPlans plans;
    private final Ground ground;
    private final Members members;
    private final Vineyards vineyards;
    private final Words words;

    TensionController(
            Readings readings, TrellisPlans plans, Ground ground, Members members, Vineyards vineyards, Words words) {
        this.readings = readings;
        this.plans = plans;
        this.ground = ground;
        this.members = members;
        this.vineyards = vineyards;
        this.words = words;
    }

    @GetMapping
    @Needs(Role.READER)
    String page(@PathVariable String code, Model model) {
        Block block = ground.requireBlock(code);
        Optional<TrellisPlan> plan = plans.ofBlock(block.id());
        if (plan.isEmpty()) {
            return TrellisController.toBegin(code);
        }
        LocalDate today = vineyards.today();
        List<Row> rows = ground.rows(block.id());
        double span = Math.round(bay(plan.get().spec(), rows) * 100) / 100.0;
        model.addAttribute(
                "form",
                new ReadingForm(
                        null, 0, today, null, shownAsideM() * 100, span, null, null, today.plusMonths(AGAIN_MONTHS)));
        return page(block, plan.get().spec(), rows, model);
    }

    /** How far aside the shown scale readings draw the wire, metres: 10 cm, or 4 in for who reads inches. */
    private static double shownAsideM() {
        return UnitText.us() ? 0.1016 : 0.10;
    }

    private static double bay(TrellisSpec spec, List<Row> rows) {
        return rows.stream()
                .flatMap(r -> TrellisPlans.lines(r).stream())
                .mapToDouble(l -> spec.linePosts(l).spanM())
                .max()
                .orElse(spec.line().maxSpanM());
    }

    private String page(Block block, TrellisSpec spec, List<Row> inUse, Model model) {
        double span = bay(spec, inUse);
        double run = inUse.stream()
                .flatMap(r -> TrellisPlans.lines(r).stream())
                .mapToDouble(RowLine::lengthM)
                .max()
                .orElse(span);
        List<Target> targets = new ArrayList<>();
        for (TrellisSpec.WireLine wire : spec.wires()) {
            double scale = Deflection.scaleN(wire.tensionN(), span, shownAsideM(), wire.wire(), run);
            targets.add(new Target(wire, span, shownAsideM(), scale / Wire.G));
        }
        Map<String, String> rows = new LinkedHashMap<>();
        Map<UUID, Row> byId = new LinkedHashMap<>();
        for (Row row : inUse) {
            rows.put(row.id().toString(), words.say("trellis.tension.row-name", row.number()));
            byId.put(row.id(), row);
        }
        Map<String, String> wires = new LinkedHashMap<>();
        for (int i = 0; i < spec.wires().size(); i++) {
            TrellisSpec.WireLine wire = spec.wires().get(i);
            wires.put(
                    Integer.toString(i),
                    words.say(
                            "trellis.tension.wire-name",
                            wire.name(),
                            words.length(wire.heightM()),
                            words.force(wire.tensionN())));
        }
        model.addAttribute("block", block);
        model.addAttribute("targets", targets);
        model.addAttribute("rowChoices", rows);
        model.addAttribute("wireChoices", wires);
        model.addAttribute("rows", byId);
        Map<UUID, String> names = members.names();
        String force = Measure.NEWTON.unit();
        model.addAttribute(
                "latest",
                Listing.of("readings", readings.latest(byId.keySet()))
                        .by(
                                "trellis.tension.row",
                                r -> Objects.requireNonNull(byId.get(r.rowId())).number())
                        .by("trellis.plan.wire", r -> r.wire())
                        .by("trellis.tension.tension-in", force, r -> Measure.NEWTON.shown(r.tensionN(), 0))
                        .by("trellis.tension.wanted-in", force, r -> Measure.NEWTON.shown(r.wantedN(), 0))
                        .by(
                                "trellis.tension.verdict",
                                r -> new Listing.Word(r.slack() ? "trellis.tension.slack" : "trellis.tension.tight"))
                        .by("trellis.tension.on", r -> r.on())
                        .by("trellis.tension.by", r -> names.get(r.by()))
                        .by("trellis.tension.due", r -> r.dueOn()));
        model.addAttribute("names", names);
        return "trellis/tension";
    }

    @PostMapping
    @Needs(Role.HELPER)
    String record(
            @PathVariable String code,
            @Valid @ModelAttribute("form") ReadingForm form,
            BindingResult errors,
            Model model) {
        Block block = ground.requireBlock(code);
        return Forms.submit(
                errors,
                () -> {
                    store(block, form);
                    return saved(code);
                },
                () -> page(block, plans.require(block.id()).spec(), ground.rows(block.id()), model));
    }

    private void store(Block block, ReadingForm form) {
        UUID rowId = Objects.requireNonNull(form.row());
        if (ground.rows(block.id()).stream().noneMatch(r -> r.id().equals(rowId))) {
            throw new Refused("trellis.tension.no-row").at("row");
        }
        int wire = Objects.requireNonNull(form.wire());
        LocalDate on = Objects.requireNonNull(form.on());
        Double gauge = form.tensionN();
        if (form.scaleKg() != null) {
            readings.record(rowId, wire, on, pulled(form), form.temperatureC(), form.due());
        } else if (gauge != null) {
            readings.recordGauge(rowId, wire, on, gauge, form.temperatureC(), form.due());
        } else {
            throw new Refused("trellis.tension.nothing").at("scaleKg");
        }
    }

    /** The scale's three numbers, all of them there and possible. */
    private static Readings.Pulled pulled(ReadingForm form) {
        if (form.tensionN() != null) {
            throw new Refused("trellis.tension.one-way").at("tensionN");
        }
        double scale = needed(form.scaleKg(), "scaleKg");
        double aside = needed(form.asideCm(), "asideCm");
        double span = needed(form.spanM(), "spanM");
        if (aside / 100 > span / 5) {
            // beyond that the wire is bent round the hook and slides over the posts
            throw new Refused("trellis.tension.too-far").at("asideCm");
        }
        return new Readings.Pulled(scale * Wire.G, aside / 100, span);
    }

    private static double needed(@Nullable Double value, String field) {
        if (value == null) {
            throw new Refused("trellis.fault.missing").at(field);
        }
        return value;
    }

    @PostMapping("/{id}/withdraw")
    @Needs(Role.LEAD)
    String withdraw(@PathVariable String code, @PathVariable UUID id) {
        readings.withdraw(id);
        return saved(code);
    }

    private static String saved(String code) {
        return "redirect:" + Paths.to("/trellis/blocks/" + code + "/tension?saved");
    }
}
