package org.rootling.exchange.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.io.IOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.exchange.domain.ImportTable;
import org.rootling.exchange.domain.Importing;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
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
 * Tables brought along: choose a file, say what its columns are, look what would come of each line, take. Between the
 * steps the page carries the table; nothing is stored before it is taken.
 */
@Controller
@RequestMapping("/v/{vineyard}/imports")
class ImportsController {

    /** The upload. */
    record FileForm(
            @NotNull @Size(max = 20) String kind, @Nullable MultipartFile file) {}

    /** The table as CSV, and what its columns are. */
    record TableForm(
            @NotNull @Size(max = 1_500_000) String table,
            @Nullable @Size(max = 200) List<@Nullable String> columns) {

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

    ImportsController(Importing importing) {
        this.importing = importing;
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
                    Importing.Kind kind = importing.kind(form.kind());
                    ImportTable table = ImportTable.read(name(form.file()), bytes(form.file()));
                    TableForm named = new TableForm(table.csv(), List.copyOf(importing.guess(kind.name(), table)));
                    model.addAttribute("sheet", named);
                    return show(kind, table, named, model);
                },
                () -> start(model));
    }

    @PostMapping("/{kind}/look")
    @Needs(Role.LEAD)
    String look(
            @PathVariable String kind,
            @Valid @ModelAttribute("sheet") TableForm form,
            BindingResult errors,
            Model model) {
        if (errors.hasErrors()) {
            throw new Refused("platform.error.bad-request");
        }
        return show(importing.kind(kind), ImportTable.parse(form.table()), form, model);
    }

    @PostMapping("/{kind}/take")
    @Needs(Role.LEAD)
    String take(
            @PathVariable String kind,
            @Valid @ModelAttribute("sheet") TableForm form,
            BindingResult errors,
            Model model) {
        if (errors.hasErrors()) {
            throw new Refused("platform.error.bad-request");
        }
        ImportTable table = ImportTable.parse(form.table());
        return Forms.submit(
                errors,
                () -> {
                    importing.take(kind, table, form.named());
                    return "redirect:" + Paths.to(importing.kind(kind).page() + "?saved");
                },
                () -> show(importing.kind(kind), table, form, model));
    }

    private String show(Importing.Kind kind, ImportTable table, TableForm form, Model model) {
        List<String> named = form.named();
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
                    i < named.size() ? named.get(i) : ""));
        }
        model.addAttribute("kind", kind);
        model.addAttribute("shown", columns);
        model.addAttribute("lines", table.rows().size());
        try {
            List<Importing.Outcome> outcomes = importing.look(kind.name(), table, named);
            model.addAttribute("outcomes", outcomes);
            model.addAttribute(
                    "good", outcomes.stream().filter(o -> o.problem() == null).count());
        } catch (Refused columnsWrong) {
            model.addAttribute("problem", columnsWrong.key());
        }
        return "exchange/import-columns";
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
