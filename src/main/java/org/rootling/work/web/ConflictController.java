package org.rootling.work.web;

import java.time.LocalDate;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.CurrentMember;
import org.rootling.people.Members;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.Paths;
import org.rootling.work.domain.ConflictService;
import org.rootling.work.domain.EntryPhotos;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Entries that contradict each other, side by side, for a lead to settle. */
@Controller
@RequestMapping("/v/{vineyard}/work/conflicts")
class ConflictController {
    private final ConflictService conflicts;
    private final EntryPhotos photos;
    private final Members members;
    private final Vineyards vineyards;
    private final CurrentMember current;
    private final MessageSource messages;

    ConflictController(
            ConflictService conflicts,
            EntryPhotos photos,
            Members members,
            Vineyards vineyards,
            CurrentMember current,
            MessageSource messages) {
        this.conflicts = conflicts;
        this.photos = photos;
        this.members = members;
        this.vineyards = vineyards;
        this.current = current;
        this.messages = messages;
    }

    /** A conflict with its reason in words. */
    record Shown(ConflictService.Conflict conflict, String reason, LocalDate on, List<UUID> photos) {}

    @GetMapping
    @Needs(Role.LEAD)
    String list(Model model) {
        List<ConflictService.Conflict> open = conflicts.open();
        Map<UUID, List<UUID>> known =
                photos.of(open.stream().map(ConflictService.Conflict::id).toList());
        model.addAttribute(
                "conflicts",
                open.stream()
                        .map(c -> new Shown(
                                c,
                                String.valueOf(messages.getMessage(
                                        c.reason(), c.args().toArray(), c.reason(), LocaleContextHolder.getLocale())),
                                vineyards.dateOf(c.at()),
                                known.getOrDefault(c.id(), List.of())))
                        .toList());
        model.addAttribute("names", members.names());
        return "work/conflicts";
    }

    @PostMapping("/{id}/take")
    @Needs(Role.LEAD)
    String take(
            @PathVariable UUID id,
            @RequestParam int version,
            @RequestParam(required = false) boolean replace,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate on) {
        conflicts.accept(id, version, on == null ? null : vineyards.during(on), replace, current.accountId());
        return "redirect:" + Paths.to("/work/conflicts?saved");
    }

    @PostMapping("/{id}/set-aside")
    @Needs(Role.LEAD)
    String setAside(@PathVariable UUID id, @RequestParam int version) {
        conflicts.setAside(id, version, current.accountId());
        return "redirect:" + Paths.to("/work/conflicts?saved");
    }
}
