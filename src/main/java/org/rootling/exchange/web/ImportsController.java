package org.rootling.exchange.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.exchange.domain.ImportRuns;
import org.rootling.exchange.domain.ImportTable;
import org.rootling.exchange.domain.Importing;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Listing;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.multipart.MultipartFile;

/**
 * Tables brought along: choose a file, say what its columns are, look what would come of each line, take.
 * Looking and taking go on in the background; nothing is recorded before it is taken.
 */
@Controller
@RequestMapping("/v/{vineyard}/imports")
class ImportsController {

    /** The upload. */
    record FileForm(
            @NotNull @Size(max = 20) String kind, @Nullable MultipartFile file) {}

    /** What the columns are. */
    record ColumnsForm(@Nullable @Size(max = 200) List<@Nullable @Size(max = 40) String> columns) {

        /** The column of each heading, "" where it is left out. */
        List<String> named() {
            return columns == null
                    ? List.of()
                    : columns.stream()
                            .map(c -> Objects.requireNonNullElse(c, ""))
                            .toList();
        }
    }

    /** One column of the file. */
    record Shown(int index, String heading, List<String> samples, String chosen) {}

    private final Importing importing;
    private final ImportRuns runs;

    ImportsController(Importing importing, ImportRuns runs) {
        this.importing = importing;
        this.runs = runs;
    }

    @GetMapping
    @Needs(Role.LEAD)
    String start(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new FileForm("orders", null));
        }
        model.addAttribute("kinds", importing.kinds());
        return "exchange/imports";
    }

    @PostMapping
    @Needs(Role.LEAD)
    String upload(@Valid @ModelAttribute("form") FileForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    String kind = importing.kind(form.kind()).name();
                    ImportTable table = ImportTable.read(name(form.file()), bytes(form.file()));
                    return job(runs.look(kind, table, importing.guess(kind, table)));
                },
                () -> start(model));
    }

    @GetMapping("/{id}")
    @Needs(Role.LEAD)
    String show(@PathVariable UUID id, Model model) {
        model.addAttribute("sheet", new ColumnsForm(List.of()));
        return looked(id, model);
    }

    private String looked(UUID id, Model model) {
        ImportRuns.Looked looked = runs.looked(id);
        ImportTable table = looked.table();
        List<Shown> columns = new ArrayList<>();
        for (int i = 0; i < table.headings().size(); i++) {
            int column = i;
            columns.add(new Shown(
                    i,
                    table.headings().get(i),
                    table.rows().stream()
                            .map(row -> row.get(column))
                            .filter(text -> !text.isEmpty())
                            .limit(3)
                            .toList(),
                    i < looked.columns().size() ? looked.columns().get(i) : ""));
        }
        model.addAttribute("id", id);
        model.addAttribute("kind", importing.kind(looked.kind()));
        model.addAttribute("shown", columns);
        model.addAttribute("lines", table.rows().size());
        model.addAttribute("problem", looked.problem());
        if (looked.problem() == null) {
            model.addAttribute(
                    "outcomes",
                    Listing.of("report", looked.outcomes())
                            .on(Paths.to("/imports/" + id))
                            .by("exchange.import.line", o -> o.line())
                            .by("exchange.import.text", o -> o.text())
                            .by(
                                    "exchange.import.result",
                                    o -> o.problem() == null ? new Listing.Word("exchange.import.good") : o.problem()));
            model.addAttribute(
                    "good",
                    looked.outcomes().stream().filter(o -> o.problem() == null).count());
        }
        return "exchange/import-columns";
    }

    @PostMapping("/{id}/look")
    @Needs(Role.LEAD)
    String lookAgain(
            @PathVariable UUID id,
            @Valid @ModelAttribute("sheet") ColumnsForm form,
            BindingResult errors,
            Model model) {
        return Forms.submit(
                errors,
                () -> {
                    ImportRuns.Looked before = runs.looked(id);
                    return job(runs.look(before.kind(), before.table(), form.named()));
                },
                () -> looked(id, model));
    }

    @PostMapping("/{id}/take")
    @Needs(Role.LEAD)
    String take(
            @PathVariable UUID id,
            @Valid @ModelAttribute("sheet") ColumnsForm form,
            BindingResult errors,
            Model model) {
        return Forms.submit(errors, () -> job(runs.take(id, form.named())), () -> looked(id, model));
    }

    private static String job(UUID id) {
        return "redirect:" + Paths.to("/jobs/" + id);
    }

    private static String name(@Nullable MultipartFile file) {
        return file == null ? "" : Objects.requireNonNullElse(file.getOriginalFilename(), "");
    }

    private static byte[] bytes(@Nullable MultipartFile file) {
        if (file == null || file.isEmpty()) {
            throw new Refused("exchange.import.empty").at("file");
        }
        try {
            return file.getBytes();
        } catch (IOException unreadable) {
            throw new Refused("exchange.import.unreadable").at("file");
        }
    }
}
