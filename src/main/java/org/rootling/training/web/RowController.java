package org.rootling.training.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.CurrentMember;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.PlaceSets;
import org.rootling.planting.Vine;
import org.rootling.planting.VineMark;
import org.rootling.planting.VineState;
import org.rootling.planting.Vines;
import org.rootling.platform.Forms;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.platform.SaneDate;
import org.rootling.training.CareLine;
import org.rootling.training.RowYear;
import org.rootling.training.YearOne;
import org.rootling.training.domain.Cautions;
import org.rootling.training.domain.Shoots;
import org.springframework.stereotype.Controller;
import org.springframework.transaction.annotation.Transactional;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** A row: every vine a mark, the walk along it, and its checklist. */
@Controller
@RequestMapping("/v/{vineyard}/rows/{id}")
class RowController {

    /**
     * A walk along the row: what most vines look like, and the exceptions by state.
     *
     * @param places walked; the whole row where empty
     * @param rest state of all others; null says nothing of them
     */
    record WalkForm(
            @Size(max = 400) @Nullable String places,
            @Nullable VineState rest,
            @Size(max = 400) @Nullable String growing,
            @Size(max = 400) @Nullable String weak,
            @Size(max = 400) @Nullable String notMoving,
            @Size(max = 400) @Nullable String dead,
            @Size(max = 400) @Nullable String missing,
            @NotNull @SaneDate LocalDate on,
            @Size(max = 2000) @Nullable String note) {}

    /** Items done on places of the row; the whole row where no places are typed. */
    record TickForm(
            @Nullable @Size(max = 200) List<UUID> items,
            @Size(max = 400) @Nullable String tickPlaces,
            @Size(max = 400) @Nullable String tickBut,
            @NotNull @SaneDate LocalDate tickOn,
            @Size(max = 2000) @Nullable String tickNote) {}

    /** Vines of a lot into places of the row. */
    record PlantForm(
            @Required @Nullable UUID lot,
            @Size(max = 400) @Nullable String places,
            @NotNull @SaneDate LocalDate on) {}

    private final Ground ground;
    private final Vines vines;
    private final Lots lots;
    private final YearOne yearOne;
    private final Shoots shoots;
    private final Cautions cautions;
    private final Members members;
    private final CurrentMember current;
    private final Vineyards vineyards;
    private final RunText runs;
    private final RowWalks walks;
    private final RowStrip strip;
    private final CareNames careNames;

    RowController(
            Ground ground,
            Vines vines,
            Lots lots,
            YearOne yearOne,
            Shoots shoots,
            Cautions cautions,
            Members members,
            CurrentMember current,
            Vineyards vineyards,
            RunText runs,
            RowWalks walks,
            RowStrip strip,
            CareNames careNames) {
        this.ground = ground;
        this.vines = vines;
        this.lots = lots;
        this.yearOne = yearOne;
        this.shoots = shoots;
        this.cautions = cautions;
        this.members = members;
        this.current = current;
        this.vineyards = vineyards;
        this.runs = runs;
        this.walks = walks;
        this.strip = strip;
        this.careNames = careNames;
    }

    /**
     * Read in one transaction: each of its own would cost a journey to the database and back, or three. Not
     * read-only: the first look at a row gives a new vineyard its checklist.
     */
    @Transactional
    @GetMapping
    @Needs(Role.READER)
    String show(@PathVariable UUID id, Model model) {
        Row row = row(id);
        List<Vine> standing = vines.inRow(id);
        model.addAttribute("row", row);
        model.addAttribute("block", ground.block(row.blockId()).orElseThrow(() -> new NotFound("block")));
        neighbours(row, model);
        model.addAttribute("strip", strip.of(PlaceMark.of(row, standing, shoots.latest(id))));
        model.addAttribute("legend", legend(row, standing));
        model.addAttribute("lots", lotRuns(standing));
        model.addAttribute("notes", vines.placeNotes(id));
        int living = (int) standing.stream().filter(v -> v.state().alive()).count();
        model.addAttribute("living", living);
        model.addAttribute("keep", keep(id, living));
        RowYear year = yearOne.row(row, standing);
        model.addAttribute("lines", year.lines());
        Map<UUID, String> itemNames =
                careNames.of(year.lines().stream().map(CareLine::item).toList());
        model.addAttribute("itemNames", itemNames);
        model.addAttribute("ticks", year.ticks().stream().limit(20).toList());
        model.addAttribute("names", members.names());
        model.addAttribute("cautions", cautions.all());
        model.addAttribute("states", VineState.SEEN);
        LocalDate today = vineyards.today();
        if (!model.containsAttribute("walk")) {
            model.addAttribute("walk", new WalkForm("", null, "", "", "", "", "", today, ""));
        }
        if (!model.containsAttribute("tick")) {
            model.addAttribute("tick", new TickForm(List.of(), "", "", today, ""));
        }
        List<UUID> ticked =
                model.getAttribute("tick") instanceof TickForm form && form.items() != null ? form.items() : List.of();
        List<CareLine> open = year.lines().stream().filter(CareLine::open).toList();
        List<CareLine> others =
                year.lines().stream().filter(line -> !line.open()).toList();
        model.addAttribute("openLines", open);
        model.addAttribute("openBoxes", TickBoxes.of(open, itemNames, ticked));
        model.addAttribute("otherBoxes", TickBoxes.of(others, itemNames, ticked));
        return "training/row";
    }

    /** The pages that walking this row takes, for a phone to keep. */
    private static String keep(UUID id, int living) {
        String page = Paths.to("/rows/" + id);
        StringBuilder pages = new StringBuilder(page + " " + page + "/shoots");
        for (int part = 2; part <= ShootsController.parts(living); part++) {
            pages.append(' ').append(page).append("/shoots?part=").append(part);
        }
        return pages.toString();
    }

    private void neighbours(Row row, Model model) {
        for (Row next : ground.neighbours(row)) {
            model.addAttribute(next.number() < row.number() ? "before" : "after", next);
        }
    }

    /** A line of the legend: how many, and where. */
    record LegendLine(VineMark mark, int count, String places) {}

    private static List<LegendLine> legend(Row row, List<Vine> standing) {
        SortedSet<Integer> empty = RunText.all(row);
        Map<VineState, SortedSet<Integer>> byState = new EnumMap<>(VineState.class);
        for (Vine vine : standing) {
            byState.computeIfAbsent(vine.state(), k -> new TreeSet<>()).add(vine.place());
            empty.remove(vine.place());
        }
        List<LegendLine> lines = new ArrayList<>();
        byState.forEach((state, places) ->
                lines.add(new LegendLine(VineMark.of(state), places.size(), PlaceSets.words(places))));
        if (!empty.isEmpty()) {
            lines.add(new LegendLine(VineMark.of(null), empty.size(), PlaceSets.words(empty)));
        }
        return lines;
    }

    /** Which lot stands where in the row. */
    private Map<Lot, String> lotRuns(List<Vine> standing) {
        Map<UUID, SortedSet<Integer>> places = new LinkedHashMap<>();
        standing.forEach(
                v -> places.computeIfAbsent(v.lotId(), k -> new TreeSet<>()).add(v.place()));
        Map<UUID, Lot> byId = lots.byIds(places.keySet());
        Map<Lot, String> runsByLot = new LinkedHashMap<>();
        places.forEach((lotId, set) -> {
            Lot lot = byId.get(lotId);
            if (lot != null) {
                runsByLot.put(lot, PlaceSets.words(set));
            }
        });
        return runsByLot;
    }

    @PostMapping("/walk")
    @Needs(Role.HELPER)
    String walk(
            @PathVariable UUID id, @Valid @ModelAttribute("walk") WalkForm form, BindingResult errors, Model model) {
        Row row = row(id);
        return Forms.submit(
                errors,
                () -> {
                    walks.walk(row, form, current.accountId());
                    return "redirect:" + Paths.to("/rows/" + id + "?saved");
                },
                () -> show(id, model));
    }

    @PostMapping("/ticks")
    @Needs(Role.HELPER)
    String tick(
            @PathVariable UUID id, @Valid @ModelAttribute("tick") TickForm form, BindingResult errors, Model model) {
        Row row = row(id);
        return Forms.submit(
                errors,
                () -> {
                    SortedSet<Integer> places = runs.places(row, form.tickPlaces(), "tickPlaces");
                    if (places.isEmpty()) {
                        places = RunText.all(row);
                    }
                    places.removeAll(runs.places(row, form.tickBut(), "tickBut"));
                    List<UUID> items = form.items() == null ? List.of() : form.items();
                    try {
                        yearOne.tick(
                                new HashSet<>(items),
                                Map.of(id, places),
                                form.tickOn(),
                                form.tickNote(),
                                current.accountId(),
                                null);
                    } catch (Refused refused) {
                        throw refused.at(field(refused));
                    }
                    return "redirect:" + Paths.to("/rows/" + id + "?saved");
                },
                () -> show(id, model));
    }

    private static String field(Refused refused) {
        String field = refused.field();
        if (field == null || field.startsWith("tick") || field.equals("items")) {
            return field == null ? "items" : field;
        }
        return "tick" + field.substring(0, 1).toUpperCase(java.util.Locale.ROOT) + field.substring(1);
    }

    @PostMapping("/ticks/{tick}/withdraw")
    @Needs(Role.HELPER)
    String untick(@PathVariable UUID id, @PathVariable UUID tick) {
        yearOne.untick(tick, current.accountId());
        return "redirect:" + Paths.to("/rows/" + id + "?saved");
    }

    @GetMapping("/plant")
    @Needs(Role.LEAD)
    String plantForm(@PathVariable UUID id, Model model) {
        Row row = row(id);
        List<Vine> standing = vines.inRow(id);
        SortedSet<Integer> free = RunText.all(row);
        free.removeAll(walks.living(id, free));
        SortedSet<Integer> gone = standing.stream()
                .filter(v -> !v.state().alive())
                .map(Vine::place)
                .collect(Collectors.toCollection(TreeSet::new));
        model.addAttribute("row", row);
        model.addAttribute("free", PlaceSets.words(free));
        model.addAttribute("gone", PlaceSets.words(gone));
        Map<UUID, String> choices = new LinkedHashMap<>();
        for (Lot lot : lots.all()) {
            if (lot.balance() > 0) {
                choices.put(
                        lot.id(),
                        lot.code() + " " + lot.variety() + " / " + lot.rootstock() + " (" + lot.balance() + ")");
            }
        }
        model.addAttribute("choices", choices);
        model.addAttribute("caution", cautions.all().get("HEAT"));
        if (!model.containsAttribute("form")) {
            String proposed = PlaceSets.words(gone.isEmpty() ? free : gone);
            model.addAttribute("form", new PlantForm(null, proposed, vineyards.today()));
        }
        return "training/plant";
    }

    @PostMapping("/plant")
    @Needs(Role.LEAD)
    String plant(
            @PathVariable UUID id, @Valid @ModelAttribute("form") PlantForm form, BindingResult errors, Model model) {
        Row row = row(id);
        return Forms.submit(
                errors,
                () -> {
                    SortedSet<Integer> places = runs.places(row, form.places(), "places");
                    vines.plant(new NewPlanting(
                            Ids.next(),
                            id,
                            places,
                            Objects.requireNonNull(form.lot()),
                            form.on(),
                            current.accountId()));
                    return "redirect:" + Paths.to("/rows/" + id + "?saved");
                },
                () -> plantForm(id, model));
    }

    private Row row(UUID id) {
        return ground.row(id).orElseThrow(() -> new NotFound("row"));
    }
}
