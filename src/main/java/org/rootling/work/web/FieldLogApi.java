package org.rootling.work.web;

import com.fasterxml.jackson.annotation.JsonInclude;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.PlaceRun;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Refused;
import org.rootling.work.FieldLog;
import org.rootling.work.Found;
import org.rootling.work.domain.EntryPhotos;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;
import org.springframework.web.multipart.MultipartFile;

/** Entries from the field: by API token, or from a phone's outbox within its session. */
@RestController
class FieldLogApi {
    /** Entries as sent. */
    record Batch(@NotNull @Size(max = FieldLog.MOST_ENTRIES) List<@NotNull @Valid EntryIn> entries) {}

    /** One entry as sent; what is missing or malformed is answered for it alone. */
    record EntryIn(
            @Nullable String id,
            @Nullable String task,
            @Nullable String places,
            @Nullable String but,
            @Nullable List<@Nullable FoundIn> found,
            @Nullable Integer minutes,
            @Nullable String at,
            @Nullable String note,
            @Nullable String person) {}

    /** Something found, as sent. */
    record FoundIn(@Nullable String place, @Nullable String what) {}

    /** The answers, in the order of the entries. */
    record Answer(List<EntryOut> entries) {}

    /** The answer to one entry: {@code taken}, {@code already taken}, {@code refused} or {@code conflict}. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record EntryOut(
            @Nullable String id,
            String result,
            @Nullable String reason,
            @Nullable String code,
            @Nullable UUID against) {}

    private final FieldLog log;
    private final EntryPhotos photos;
    private final CurrentMember current;
    private final MessageSource messages;

    FieldLogApi(FieldLog log, EntryPhotos photos, CurrentMember current, MessageSource messages) {
        this.log = log;
        this.photos = photos;
        this.current = current;
        this.messages = messages;
    }

    @PostMapping("/api/v1/field-logs")
    @Needs(Role.HELPER)
    Answer fieldLogs(@Valid @RequestBody Batch batch) {
        return take(batch);
    }

    @PostMapping("/v/{vineyard}/outbox")
    @Needs(Role.HELPER)
    Answer outbox(@Valid @RequestBody Batch batch) {
        return take(batch);
    }

    /** The answer to a photo: {@code taken}, {@code already taken} or {@code refused}. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record PhotoOut(String result, @Nullable String reason) {}

    @PostMapping("/api/v1/field-logs/{entry}/photos/{photo}")
    @Needs(Role.HELPER)
    PhotoOut photo(
            @PathVariable UUID entry,
            @PathVariable UUID photo,
            @RequestParam(name = "photo", required = false) @Nullable MultipartFile file) {
        if (file == null) {
            throw new Refused("platform.picture.empty");
        }
        return new PhotoOut(photos.add(entry, photo, file, current.accountId()) ? "taken" : "already taken", null);
    }

    @PostMapping("/v/{vineyard}/outbox/{entry}/photos/{photo}")
    @Needs(Role.HELPER)
    PhotoOut outboxPhoto(
            @PathVariable UUID entry,
            @PathVariable UUID photo,
            @RequestParam(name = "photo", required = false) @Nullable MultipartFile file) {
        try {
            return photo(entry, photo, file);
        } catch (Refused refused) {
            return new PhotoOut("refused", text(refused.key(), refused.args()));
        }
    }

    private Answer take(Batch batch) {
        List<@Nullable EntryOut> answers = new ArrayList<>();
        List<FieldLog.Entry> good = new ArrayList<>();
        List<Integer> index = new ArrayList<>();
        for (EntryIn e : batch.entries()) {
            try {
                good.add(entry(e));
                index.add(answers.size());
                answers.add(null);
            } catch (Refused refused) {
                answers.add(new EntryOut(
                        shown(e.id()), "refused", text(refused.key(), refused.args()), refused.key(), null));
            }
        }
        List<FieldLog.Result> results = log.record(good, current.accountId());
        for (int i = 0; i < results.size(); i++) {
            FieldLog.Result r = results.get(i);
            answers.set(
                    index.get(i),
                    new EntryOut(
                            r.id().toString(),
                            r.outcome().name().toLowerCase(Locale.ROOT).replace('_', ' '),
                            r.reason() == null
                                    ? null
                                    : text(r.reason(), r.args().toArray()),
                            r.reason(),
                            r.against()));
        }
        return new Answer(answers.stream().map(Objects::requireNonNull).toList());
    }

    private static FieldLog.Entry entry(EntryIn e) {
        UUID id = uuid(e.id(), "work.log.bad-id");
        UUID task = uuid(e.task(), "work.log.unknown-task");
        if (e.places() == null) {
            throw new Refused("work.log.nothing");
        }
        List<Found> found = new ArrayList<>();
        if (e.found() != null) {
            if (e.found().size() > 1000) {
                throw new Refused("work.log.found-many", 1000);
            }
            for (FoundIn f : e.found()) {
                if (f == null || f.place() == null || f.what() == null) {
                    throw new Refused("work.log.unknown-finding", "");
                }
                for (int place : foundPlaces(f.place(), e.places())) {
                    found.add(new Found(place, f.what()));
                }
            }
        }
        UUID person = e.person() == null || e.person().isEmpty() ? null : uuid(e.person(), "work.log.unknown-helper");
        return new FieldLog.Entry(id, task, e.places(), e.but(), found, e.minutes(), instant(e.at()), e.note(), person);
    }

    /** A finding names its place as a run, or by its number alone. */
    private static Iterable<Integer> foundPlaces(String text, String entryRun) {
        if (text.matches("\\s*\\d{1,6}\\s*")) {
            return List.of(Integer.parseInt(text.strip()));
        }
        PlaceRun at = PlaceRun.parse(text);
        PlaceRun run = PlaceRun.parse(entryRun);
        if (!at.blockCode().equals(run.blockCode()) || at.row() != run.row()) {
            throw new Refused("work.log.other-row", run.blockCode() + " r" + run.row());
        }
        return at.places();
    }

    private static UUID uuid(@Nullable String text, String key) {
        try {
            if (text != null && text.length() == 36) {
                return UUID.fromString(text);
            }
        } catch (IllegalArgumentException notOne) {
            throw new Refused(key);
        }
        throw new Refused(key);
    }

    private static Instant instant(@Nullable String text) {
        try {
            return java.time.OffsetDateTime.parse(text == null ? "" : text).toInstant();
        } catch (java.time.format.DateTimeParseException notOne) {
            throw new Refused("work.log.bad-time");
        }
    }

    private static @Nullable String shown(@Nullable String id) {
        return id == null ? null : id.substring(0, Math.min(60, id.length()));
    }

    private String text(String key, @Nullable Object... args) {
        return String.valueOf(messages.getMessage(key, args, key, LocaleContextHolder.getLocale()));
    }
}
