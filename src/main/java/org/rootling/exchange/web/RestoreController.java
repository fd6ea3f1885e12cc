package org.rootling.exchange.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.exchange.domain.Restore;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Forms;
import org.rootling.platform.NotFound;
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

/** An archive back into an empty vineyard, for its owner. */
@Controller
@RequestMapping("/v/{vineyard}/archive/restore")
class RestoreController {

    /** The archive to take in. */
    record UploadForm(@Nullable MultipartFile file) {}

    private final Restore restore;
    private final CurrentMember current;

    RestoreController(Restore restore, CurrentMember current) {
        this.restore = restore;
        this.current = current;
    }

    @GetMapping
    @Needs(Role.OWNER)
    String page(Model model) {
        if (!model.containsAttribute("form")) {
            model.addAttribute("form", new UploadForm(null));
        }
        model.addAttribute("empty", restore.isEmpty());
        model.addAttribute("last", restore.last().orElse(null));
        return "exchange/restore";
    }

    @PostMapping
    @Needs(Role.OWNER)
    String take(@ModelAttribute("form") UploadForm form, BindingResult errors, Model model) {
        return Forms.submit(
                errors,
                () -> {
                    MultipartFile file = form.file();
                    if (file == null || file.isEmpty()) {
                        throw new Refused("exchange.restore.no-archive").at("file");
                    }
                    try (InputStream content = file.getInputStream()) {
                        UUID id =
                                restore.take(String.valueOf(file.getOriginalFilename()), content, current.accountId());
                        return "redirect:" + Paths.to("/archive/restore/" + id);
                    } catch (IOException failure) {
                        throw new UncheckedIOException(failure);
                    }
                },
                () -> page(model));
    }

    @GetMapping("/{id}")
    @Needs(Role.OWNER)
    String show(@PathVariable UUID id, Model model, HttpServletResponse response) {
        Restore.Run run = restore.run(id).orElseThrow(() -> new NotFound("archive"));
        model.addAttribute("run", run);
        if (run.working()) {
            response.setHeader("Refresh", "2");
        }
        return "exchange/restore-run";
    }

    @PostMapping("/{id}/start")
    @Needs(Role.OWNER)
    String start(@PathVariable UUID id) {
        restore.start(id);
        return "redirect:" + Paths.to("/archive/restore/" + id);
    }

    @PostMapping("/{id}/cancel")
    @Needs(Role.OWNER)
    String cancel(@PathVariable UUID id) {
        restore.cancel(id);
        return "redirect:" + Paths.to("/archive/restore/" + id);
    }
}
