package org.rootling.work.web;

import jakarta.servlet.http.HttpServletRequest;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.springframework.http.CacheControl;
import org.springframework.http.ResponseEntity;
import org.springframework.security.web.csrf.CsrfToken;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ResponseBody;

/** What a phone needs to work without signal, and to know when it is back. */
@Controller
class OfflineController {
    /** Whose session this is, the vineyard's time, and a token for the next request. */
    record Session(
            UUID account,
            String now,
            @Nullable String header,
            @Nullable String token) {}

    private final Vineyards vineyards;
    private final CurrentMember current;

    OfflineController(Vineyards vineyards, CurrentMember current) {
        this.vineyards = vineyards;
        this.current = current;
    }

    /** Shown by the service worker for pages it does not keep. */
    @GetMapping("/offline")
    String offline() {
        return "work/offline";
    }

    @GetMapping("/v/{vineyard}/outbox")
    @Needs(Role.HELPER)
    @ResponseBody
    ResponseEntity<Session> session(HttpServletRequest request) {
        CsrfToken token = (CsrfToken) request.getAttribute(CsrfToken.class.getName());
        return ResponseEntity.ok()
                .cacheControl(CacheControl.noStore())
                .body(new Session(
                        current.accountId(),
                        vineyards.now().toString(),
                        token == null ? null : token.getHeaderName(),
                        token == null ? null : token.getToken()));
    }
}
