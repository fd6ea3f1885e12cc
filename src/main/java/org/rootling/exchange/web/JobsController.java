package org.rootling.exchange.web;

import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.util.UUID;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Jobs;
import org.rootling.platform.NotFound;
import org.rootling.platform.Paths;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;

/** How far one's own work in the background is, stopping it, and the file it made. */
@Controller
@RequestMapping("/v/{vineyard}/jobs/{id}")
class JobsController {

    /** What is done within this time is not worth a page of its own. */
    private static final Duration PATIENCE = Duration.ofMillis(800);

    private final Jobs jobs;

    JobsController(Jobs jobs) {
        this.jobs = jobs;
    }

    @GetMapping
    @Needs(Role.READER)
    String show(@PathVariable UUID id, Model model, HttpServletResponse response) {
        Jobs.Job job = jobs.soon(id, PATIENCE);
        String page = job.page();
        if (job.finished() && page != null) {
            return "redirect:" + Paths.to(page);
        }
        if (job.running()) {
            response.setHeader("Refresh", "2");
        }
        model.addAttribute("job", job);
        return "exchange/job";
    }

    @PostMapping("/cancel")
    @Needs(Role.READER)
    String cancel(@PathVariable UUID id) {
        jobs.cancel(id);
        return "redirect:" + Paths.to("/jobs/" + id);
    }

    @GetMapping("/file")
    @Needs(Role.READER)
    void file(@PathVariable UUID id, HttpServletResponse response) throws IOException {
        Jobs.Job job = jobs.job(id).orElseThrow(() -> new NotFound("job"));
        String name = job.fileName();
        if (!job.finished() || name == null) {
            throw new NotFound("file");
        }
        response.setContentType(job.fileType());
        response.setHeader(
                HttpHeaders.CONTENT_DISPOSITION,
                ContentDisposition.attachment()
                        .filename(name, StandardCharsets.UTF_8)
                        .build()
                        .toString());
        response.setContentLengthLong(job.fileBytes());
        jobs.file(job, response.getOutputStream());
    }
}
