package org.rootling.people.web;

import java.time.Duration;
import java.util.UUID;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.NotFound;
import org.rootling.platform.Pictures;
import org.springframework.http.CacheControl;
import org.springframework.http.ContentDisposition;
import org.springframework.http.HttpHeaders;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;

/** Hands out kept photos to look at and papers to download; neither can run anything in the browser. */
@Controller
@RequestMapping("/v/{vineyard}/pictures")
class PictureController {

    private final Pictures pictures;

    PictureController(Pictures pictures) {
        this.pictures = pictures;
    }

    @GetMapping("/{id}")
    @Needs(Role.READER)
    ResponseEntity<byte[]> whole(@PathVariable UUID id) {
        return answer(id, pictures.find(id).orElseThrow(() -> new NotFound("picture")));
    }

    @GetMapping("/{id}/small")
    @Needs(Role.READER)
    ResponseEntity<byte[]> small(@PathVariable UUID id) {
        return answer(id, pictures.findSmall(id).orElseThrow(() -> new NotFound("picture")));
    }

    private static ResponseEntity<byte[]> answer(UUID id, Pictures.Kept kept) {
        ContentDisposition disposition = (kept.photo() ? ContentDisposition.inline() : ContentDisposition.attachment())
                .filename(id + (kept.photo() ? ".jpg" : ".pdf"))
                .build();
        return ResponseEntity.ok()
                .contentType(MediaType.parseMediaType(kept.mediaType()))
                .cacheControl(
                        CacheControl.maxAge(Duration.ofDays(30)).cachePrivate().immutable())
                .header(HttpHeaders.CONTENT_DISPOSITION, disposition.toString())
                .header("X-Content-Type-Options", "nosniff")
                .header("Content-Security-Policy", "default-src 'none'; sandbox")
                .body(kept.content());
    }
}
