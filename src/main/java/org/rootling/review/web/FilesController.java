package org.rootling.review.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.BufferedOutputStream;
import java.io.IOException;
import java.io.OutputStream;
import java.util.function.Consumer;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.review.domain.Exports;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** The numbers behind the review as files. */
@Controller
@RequestMapping("/v/{vineyard}/review")
class FilesController {

    private static final String CSV = "text/csv; charset=UTF-8; header=present";

    private final Exports exports;
    private final Vineyards vineyards;

    FilesController(Exports exports, Vineyards vineyards) {
        this.exports = exports;
        this.vineyards = vineyards;
    }

    @GetMapping("/vines.csv")
    @Needs(Role.READER)
    void vines(HttpServletResponse response) throws IOException {
        send(response, CSV, "vines.csv", exports::vinesCsv);
    }

    @GetMapping("/rows.csv")
    @Needs(Role.READER)
    void rows(HttpServletResponse response) throws IOException {
        send(response, CSV, "rows.csv", exports::rowsCsv);
    }

    @GetMapping("/heights.csv")
    @Needs(Role.READER)
    void heights(HttpServletResponse response) throws IOException {
        send(response, CSV, "heights.csv", exports::heightsCsv);
    }

    @GetMapping("/replacing.csv")
    @Needs(Role.READER)
    void replacing(HttpServletResponse response) throws IOException {
        send(response, CSV, "to-replant.csv", exports::gapsCsv);
    }

    @GetMapping("/register.csv")
    @Needs(Role.READER)
    void register(HttpServletResponse response) throws IOException {
        send(response, CSV, "planted-area.csv", exports::registerCsv);
    }

    @GetMapping("/review.xlsx")
    @Needs(Role.READER)
    void workbook(HttpServletResponse response) throws IOException {
        send(
                response,
                "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
                "review.xlsx",
                exports::workbook);
    }

    @GetMapping("/vines.geojson")
    @Needs(Role.READER)
    void geojson(HttpServletResponse response) throws IOException {
        send(response, "application/geo+json", "vines.geojson", exports::vinesGeoJson);
    }

    private void send(HttpServletResponse response, String type, String name, Consumer<OutputStream> file)
            throws IOException {
        response.setContentType(type);
        response.setHeader(
                HttpHeaders.CONTENT_DISPOSITION,
                "attachment; filename=\"" + vineyards.current().slug() + "-" + vineyards.today() + "-" + name + "\"");
        // The buffer holds back the head of the answer, so that what fails at once is still a page.
        OutputStream out = new BufferedOutputStream(response.getOutputStream(), 32_768);
        try {
            file.accept(out);
            out.flush();
        } catch (RuntimeException failure) {
            if (!response.isCommitted()) {
                response.reset();
            }
            throw failure;
        }
    }
}
