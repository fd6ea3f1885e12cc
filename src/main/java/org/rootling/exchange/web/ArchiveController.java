package org.rootling.exchange.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import org.rootling.exchange.domain.Archive;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** The archive of a whole vineyard, for its owner. */
@Controller
@RequestMapping("/v/{vineyard}")
class ArchiveController {

    private final Archive archive;
    private final Vineyards vineyards;

    ArchiveController(Archive archive, Vineyards vineyards) {
        this.archive = archive;
        this.vineyards = vineyards;
    }

    @GetMapping("/archive")
    @Needs(Role.OWNER)
    String page() {
        return "exchange/archive";
    }

    @GetMapping("/archive.zip")
    @Needs(Role.OWNER)
    void zip(HttpServletResponse response) throws IOException {
        // Written whole first: a fault is a page and not half an archive, and a slow line holds no database connection.
        Path file = Files.createTempFile("rootling", ".zip");
        try {
            try (OutputStream out = Files.newOutputStream(file)) {
                archive.write(out);
            }
            response.setContentType("application/zip");
            response.setHeader(
                    HttpHeaders.CONTENT_DISPOSITION,
                    "attachment; filename=\"" + vineyards.current().slug() + "-" + vineyards.today() + ".zip\"");
            response.setContentLengthLong(Files.size(file));
            Files.copy(file, response.getOutputStream());
        } finally {
            Files.deleteIfExists(file);
        }
    }
}
