package org.rootling.ground.web;

import jakarta.validation.Valid;
import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import java.io.IOException;
import java.io.UncheckedIOException;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Point;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.LocalPlane;
import org.rootling.ground.domain.Boundary;
import org.rootling.ground.domain.BoundaryImport;
import org.rootling.ground.domain.BoundarySource;
import org.rootling.ground.domain.GroundService;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.Paths;
import org.rootling.platform.Refused;
import org.rootling.platform.UnitText;
import org.springframework.context.MessageSource;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.multipart.MultipartFile;

/** Boundaries with a place on Earth: imported from a file, or walked with a phone. */
@Controller
@RequestMapping("/v/{vineyard}/blocks")
class FoundBoundaryController {

    /** A file with a field in it. */
    record ImportForm(
            @NotBlank @Size(max = 12) @Nullable String code,
            @NotBlank @Size(max = 80) @Nullable String name,
            @Nullable MultipartFile file) {}

    /** Corners walked: longitude, latitude and accuracy in metres, one corner a line. */
    record WalkForm(
            @NotBlank @Size(max = 12) @Nullable String code,
            @NotBlank @Size(max = 80) @Nullable String name,
            @NotBlank @Size(max = 20_000) @Nullable String fixes) {}

    private final GroundService ground;
    private final MessageSource messages;
    private final UnitText units;

    FoundBoundaryController(GroundService ground, MessageSource messages, UnitText units) {
        this.ground = ground;
        this.messages = messages;
        this.units = units;
    }

    @GetMapping("/import")
    @Needs(Role.LEAD)
    String choose(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new ImportForm("", "", null));
        }
        return "ground/import";
    }

    @PostMapping("/import")
    @Needs(Role.LEAD)
    String take(@Valid @ModelAttribute("form") ImportForm form, BindingResult errors, Model model, Locale locale) {
        return Forms.submit(
                errors, () -> keep(form.code(), form.name(), read(form.file()), locale), () -> choose(model));
    }

    private static Boundary read(@Nullable MultipartFile file) {
        if (file == null || file.isEmpty()) {
            throw new Refused("ground.import.empty").at("file");
        }
        if (file.getSize() > BoundaryImport.MOST_BYTES) {
            throw new Refused("ground.import.too-large", BoundaryImport.MOST_BYTES / 1_000_000).at("file");
        }
        try {
            return BoundaryImport.read(file.getBytes());
        } catch (IOException failure) {
            throw new UncheckedIOException(failure);
        }
    }

    @GetMapping("/walk")
    @Needs(Role.LEAD)
    String walk(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new WalkForm("", "", ""));
        }
        return "ground/walk";
    }

    @PostMapping("/walk")
    @Needs(Role.LEAD)
    String walked(@Valid @ModelAttribute("form") WalkForm form, BindingResult errors, Model model, Locale locale) {
        return Forms.submit(
                errors,
                () -> keep(
                        form.code(), form.name(), walked(Objects.requireNonNullElse(form.fixes(), ""), locale), locale),
                () -> walk(model));
    }

    private String keep(@Nullable String code, @Nullable String name, Boundary boundary, Locale locale) {
        Block block = ground.add(
                Objects.requireNonNullElse(code, ""),
                Objects.requireNonNullElse(name, ""),
                boundary,
                Objects.requireNonNull(messages.getMessage("ground.plan.exclusion", null, locale)));
        return "redirect:" + Paths.to("/blocks/" + block.code());
    }

    private Boundary walked(String fixes, Locale locale) {
        List<LocalPlane.Spot> spots = new ArrayList<>();
        List<Double> errors = new ArrayList<>();
        String[] lines = fixes.strip().split("\\R");
        for (int i = 0; i < lines.length; i++) {
            String[] parts = lines[i].strip().split("[,; ]+");
            if (parts.length < 2 || parts.length > 3) {
                throw new Refused("ground.walk.line", i + 1).at("fixes");
            }
            spots.add(new LocalPlane.Spot(number(parts[0], i), number(parts[1], i)));
            errors.add(parts.length == 3 ? Math.abs(number(parts[2], i)) : 5.0);
        }
        LocalPlane.check(spots, "fixes");
        LocalPlane plane = LocalPlane.about(spots);
        List<Point> corners = plane.points(spots);
        Field field;
        try {
            field = Field.of(corners, List.of());
        } catch (Refused refused) {
            throw refused.at("fixes");
        }
        double error = areaError(corners, errors);
        String note = messages.getMessage(
                "ground.walk.note",
                new Object[] {
                    units.bothLengths(
                            errors.stream()
                                    .mapToDouble(Double::doubleValue)
                                    .max()
                                    .orElse(0),
                            1),
                    units.bothAreas(error, 0),
                    units.percent(error / field.areaM2())
                },
                locale);
        return new Boundary(field, BoundarySource.WALKED, note, plane.latitude(), plane.longitude());
    }

    private static double number(String text, int line) {
        if (text.length() > 24 || !text.matches("[+-]?\\d+(\\.\\d+)?")) {
            throw new Refused("ground.walk.line", line + 1).at("fixes");
        }
        return Double.parseDouble(text);
    }

    /**
     * Standard deviation of the area when each corner is out by its own error in any direction, independently: the root
     * of the sum of (error x distance between its neighbours / 2) squared; from the shoelace formula.
     */
    static double areaError(List<Point> corners, List<Double> errors) {
        double sum = 0;
        int n = corners.size();
        for (int i = 0; i < n; i++) {
            double across = corners.get((i + n - 1) % n).distance(corners.get((i + 1) % n));
            sum += Math.pow(errors.get(i) * across / 2, 2);
        }
        return Math.sqrt(sum);
    }
}
