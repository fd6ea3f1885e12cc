package org.rootling.trellis.web;

import java.util.List;
import java.util.Map;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.trellis.calc.Fault;
import org.rootling.trellis.calc.TrellisPreview;
import org.springframework.http.HttpStatus;
import org.springframework.http.MediaType;
import org.springframework.http.ProblemDetail;
import org.springframework.http.ResponseEntity;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Works a trellis out and stores nothing. */
@RestController
@RequestMapping("/api/v1")
class TrellisApi {
    private final Words words;

    TrellisApi(Words words) {
        this.words = words;
    }

    /** The numbers of a trellis for some rows; every wrong field is named in {@code errors}. */
    @PostMapping("/trellis-previews")
    @Needs(Role.READER)
    ResponseEntity<Object> preview(@RequestBody TrellisPreview.Request request) {
        List<Fault> faults = TrellisPreview.faults(request);
        if (faults.isEmpty()) {
            return ResponseEntity.ok(TrellisPreview.of(request));
        }
        List<Map<String, String>> errors = faults.stream()
                .map(f -> Map.of(
                        "field", f.field(),
                        "reason", f.code(),
                        "message", words.say(f.code(), words.values(f))))
                .toList();
        Map<String, String> first = errors.get(0);
        ProblemDetail problem = ProblemDetail.forStatusAndDetail(
                HttpStatus.UNPROCESSABLE_CONTENT, first.get("field") + ": " + first.get("message"));
        problem.setProperty("field", first.get("field"));
        problem.setProperty("reason", first.get("reason"));
        problem.setProperty("errors", errors);
        return ResponseEntity.status(HttpStatus.UNPROCESSABLE_CONTENT)
                .contentType(MediaType.APPLICATION_PROBLEM_JSON)
                .body(problem);
    }
}
