package org.rootling.exchange.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Locale;
import java.util.UUID;
import org.rootling.exchange.domain.Archive;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Jobs;
import org.rootling.platform.Paths;
import org.springframework.context.MessageSource;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** The archive of a whole vineyard, for its owner. */
@Controller
@RequestMapping("/v/{vineyard}")
class ArchiveController {

    private final Archive archive;
    private final Vineyards vineyards;
    private final Jobs jobs;
    private final MessageSource messages;

    ArchiveController(Archive archive, Vineyards vineyards, Jobs jobs, MessageSource messages) {
        this.archive = archive;
        this.vineyards = vineyards;
        this.jobs = jobs;
        this.messages = messages;
    }

    @GetMapping("/archive")
    @Needs(Role.OWNER)
    String page() {
        return "exchange/archive";
    }

    /** Makes it in the background: of a large vineyard it takes a while. */
    @PostMapping("/archive")
    @Needs(Role.OWNER)
    String make(Locale locale) {
        String name = fileName();
        UUID job = jobs.start(
                messages.getMessage("exchange.archive.making", null, locale),
                "/archive",
                progress -> Jobs.Ended.file(name, "application/zip", out -> archive.write(out, progress::at)));
        return "redirect:" + Paths.to("/jobs/" + job);
    }

    /** The same at once, for scripts. */
    @GetMapping("/archive.zip")
    @Needs(Role.OWNER)
    void zip(HttpServletResponse response) throws IOException {
        // Written whole first: a fault is a page and not half an archive, and a slow line holds no database connection.
        Path file = Files.createTempFile("rootling", ".zip");
        try {
            try (OutputStream out = Files.newOutputStream(file)) {
                archive.write(out, (done, all) -> {});
            }
            response.setContentType("application/zip");
            response.setHeader(HttpHeaders.CONTENT_DISPOSITION, "attachment; filename=\"" + fileName() + "\"");
            response.setContentLengthLong(Files.size(file));
            Files.copy(file, response.getOutputStream());
        } finally {
            Files.deleteIfExists(file);
        }
    }

    private String fileName() {
        return vineyards.current().slug() + "-" + vineyards.today() + ".zip";
    }
}
