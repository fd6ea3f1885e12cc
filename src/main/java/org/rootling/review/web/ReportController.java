package org.rootling.review.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.planting.VineState;
import org.rootling.platform.Jobs;
import org.rootling.platform.Paths;
import org.rootling.review.calc.Reorder;
import org.rootling.review.domain.Clusters;
import org.rootling.review.domain.Establishment;
import org.rootling.review.domain.Establishment.By;
import org.rootling.review.domain.HeightsOfBlock;
import org.rootling.review.domain.Progress;
import org.rootling.review.domain.Register;
import org.rootling.review.domain.Samples;
import org.rootling.review.domain.SeasonBook;
import org.springframework.context.MessageSource;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** The report as PDF, in the sections one chooses. */
@Controller
@RequestMapping("/v/{vineyard}/review")
class ReportController {

    private static final List<String> SECTIONS = List.of(
            "count", "waiting", "shares", "planters", "curves", "clusters", "heights", "season", "reorder", "register");

    /** The report stays a report: a vineyard of more blocks looks at them one by one. */
    private static final int MOST_BLOCKS = 20;

    /** One grouping with its comparisons in words. */
    public record Part(Establishment.Review review, List<String> differences) {}

    private final Progress progress;
    private final Establishment establishment;
    private final Clusters clusters;
    private final HeightsOfBlock heights;
    private final SeasonBook season;
    private final Register register;
    private final Samples samples;
    private final Ground ground;
    private final Vineyards vineyards;
    private final CurrentMember member;
    private final ReviewWords words;
    private final ReportPdf pdf;
    private final Jobs jobs;
    private final MessageSource messages;

    ReportController(
            Progress progress,
            Establishment establishment,
            Clusters clusters,
            HeightsOfBlock heights,
            SeasonBook season,
            Register register,
            Samples samples,
            Ground ground,
            Vineyards vineyards,
            CurrentMember member,
            ReviewWords words,
            ReportPdf pdf,
            Jobs jobs,
            MessageSource messages) {
        this.progress = progress;
        this.establishment = establishment;
        this.clusters = clusters;
        this.heights = heights;
        this.season = season;
        this.register = register;
        this.samples = samples;
        this.ground = ground;
        this.vineyards = vineyards;
        this.member = member;
        this.words = words;
        this.pdf = pdf;
        this.jobs = jobs;
        this.messages = messages;
    }

    @GetMapping("/report")
    @Needs(Role.READER)
    String report(Model model) {
        model.addAttribute("sections", SECTIONS);
        model.addAttribute("owner", member.may(Role.OWNER));
        return "review/report";
    }

    /** Makes the report in the background, to be fetched. */
    @PostMapping("/report")
    @Needs(Role.READER)
    String make(@RequestParam(required = false) @Nullable Set<String> section, Locale locale) {
        Set<String> chosen = chosen(section);
        String name = fileName();
        UUID job = jobs.start(messages.getMessage("review.report.making", null, locale), "/review/report", progress -> {
            progress.at(0, 2);
            Map<String, Object> model = model(chosen);
            progress.at(1, 2);
            return Jobs.Ended.file(name, "application/pdf", out -> pdf.write("review/report-pdf", model, out));
        });
        return "redirect:" + Paths.to("/jobs/" + job);
    }

    /** The same at once, for scripts. */
    @GetMapping("/report.pdf")
    @Needs(Role.READER)
    void pdf(@RequestParam(required = false) @Nullable Set<String> section, HttpServletResponse response)
            throws IOException {
        // Made whole before the first byte goes out, so that a fault is a page and not half a file.
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        pdf.write("review/report-pdf", model(chosen(section)), out);
        response.setContentType("application/pdf");
        response.setHeader(HttpHeaders.CONTENT_DISPOSITION, "inline; filename=\"" + fileName() + "\"");
        response.setContentLength(out.size());
        out.writeTo(response.getOutputStream());
    }

    private String fileName() {
        return vineyards.current().slug() + "-" + vineyards.today() + ".pdf";
    }

    private static Set<String> chosen(@Nullable Set<String> section) {
        Set<String> chosen = new LinkedHashSet<>(SECTIONS);
        if (section == null) {
            chosen.remove("planters");
        } else {
            chosen.retainAll(section);
        }
        if (chosen.contains("planters")) {
            chosen.add("shares");
        }
        return chosen;
    }

    private Map<String, Object> model(Set<String> chosen) {
        Map<String, Object> model = new HashMap<>();
        model.put("vineyard", vineyards.current());
        model.put("today", vineyards.today());
        model.put("by", member.name());
        model.put("states", VineState.values());
        model.put("sections", List.copyOf(chosen));
        Progress.Count count = progress.count(vineyards.today(), Reorder.SPARE_SHARE, Reorder.BUNDLE);
        model.put("count", count);
        model.put("reorder", count.reorder());
        model.put("register", register.lines());
        model.put("samples", samples.latest(null));
        List<By> groupings = new ArrayList<>(List.of(By.LOT, By.BLOCK, By.VARIETY, By.ROOTSTOCK, By.BED, By.DAY));
        if (chosen.contains("planters")) {
            groupings.add(By.PLANTER);
        }
        List<Establishment.Review> reviews = establishment.reviews(groupings);
        Establishment.Review byLot = reviews.get(0);
        model.put(
                "parts",
                reviews.stream().map(r -> new Part(r, words.differences(r))).toList());
        model.put("verdict", words.verdict(byLot));
        model.put("pace", words.pace(byLot));
        String plot = words.plot(byLot);
        if (plot != null) {
            model.put("plot", plot);
        }
        model.put("curves", byLot.curves());
        List<Block> blocks = ground.blocks();
        List<Block> first = blocks.subList(0, Math.min(MOST_BLOCKS, blocks.size()));
        model.put(
                "clusters",
                chosen.contains("clusters") ? first.stream().map(clusters::of).toList() : List.of());
        model.put("heights", chosen.contains("heights") ? heights(first) : List.of());
        if (chosen.contains("season")) {
            model.put("book", season.book(null));
            model.put("money", member.may(Role.LEAD));
        }
        return model;
    }

    /** The blocks with a height on record this season, each against its own lowest wire. */
    private List<HeightsOfBlock.Found> heights(List<Block> blocks) {
        int now = heights.season();
        return blocks.stream()
                .map(block -> heights.of(
                        block,
                        now,
                        heights.plannedWireCm(block.id()).orElse(HeightsOfBlock.USUAL_WIRE_CM),
                        heights.usualEnd(now)))
                .filter(found -> found.spread() != null)
                .toList();
    }
}
