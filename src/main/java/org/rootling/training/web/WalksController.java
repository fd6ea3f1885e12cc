package org.rootling.training.web;

import java.time.LocalDate;
import java.time.format.DateTimeParseException;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.Function;
import java.util.regex.Matcher;
import java.util.regex.Pattern;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Ground;
import org.rootling.ground.Row;
import org.rootling.people.CurrentMember;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.planting.VineState;
import org.rootling.platform.Refused;
import org.rootling.training.domain.WalkReceipts;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.dao.ConcurrencyFailureException;
import org.springframework.http.HttpStatus;
import org.springframework.http.ProblemDetail;
import org.springframework.http.converter.HttpMessageNotReadableException;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.ExceptionHandler;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.ResponseBody;

/** Takes rows that were walked without signal, each exactly once and each by itself: one that cannot be stops no other. */
@Controller
@RequestMapping("/v/{vineyard}/walks")
class WalksController {

    private static final int MOST = 100;
    private static final int MOST_FIELDS = 200;
    private static final int LONGEST = 2000;
    private static final int LONGEST_RUN = 400;
    private static final LocalDate EARLIEST = LocalDate.of(1990, 1, 1);
    private static final Pattern TAP = Pattern.compile("(shoots|height|chosen)\\[(\\d{1,6})]");
    private static final Pattern NUMBER = Pattern.compile("\\d{1,6}");

    /** What a phone sends. */
    record Batch(@Nullable List<@Nullable Walk> walks) {}

    /**
     * One walk.
     *
     * @param id made by the phone; the same walk sent again has the same
     * @param kind walk or shoots
     * @param fields as the form of the page has them
     */
    record Walk(
            @Nullable UUID id,
            @Nullable String kind,
            @Nullable UUID row,
            @Nullable Map<String, @Nullable String> fields) {}

    /** What became of each. */
    record Answer(List<Result> walks) {}

    /**
     * What became of one.
     *
     * @param result taken or refused
     * @param reason why it was refused
     */
    record Result(UUID id, String result, @Nullable String reason) {}

    private final Ground ground;
    private final RowWalks walks;
    private final CurrentMember current;
    private final WalkReceipts receipts;
    private final MessageSource messages;

    WalksController(
            Ground ground, RowWalks walks, CurrentMember current, WalkReceipts receipts, MessageSource messages) {
        this.ground = ground;
        this.walks = walks;
        this.current = current;
        this.receipts = receipts;
        this.messages = messages;
    }

    @PostMapping
    @Needs(Role.HELPER)
    @ResponseBody
    Answer take(@RequestBody Batch batch) {
        List<@Nullable Walk> sent = batch.walks() == null ? List.of() : batch.walks();
        if (sent.size() > MOST) {
            throw new Refused("training.walks.too-many", MOST).at("walks");
        }
        List<Result> results = new ArrayList<>();
        for (Walk walk : sent) {
            if (walk == null || walk.id() == null) {
                throw new Refused("training.walks.unreadable").at("walks");
            }
            results.add(take(walk.id(), walk));
        }
        return new Answer(results);
    }

    /** Not JSON, or not of this shape. */
    @ExceptionHandler(HttpMessageNotReadableException.class)
    @ResponseBody
    ProblemDetail unreadable() {
        return ProblemDetail.forStatusAndDetail(
                HttpStatus.BAD_REQUEST,
                messages.getMessage("training.walks.unreadable", null, LocaleContextHolder.getLocale()));
    }

    private Result take(UUID id, Walk walk) {
        try {
            receipts.once(id, () -> record(walk));
            return new Result(id, "taken", null);
        } catch (Refused refused) {
            return new Result(
                    id,
                    "refused",
                    messages.getMessage(refused.key(), refused.args(), refused.key(), LocaleContextHolder.getLocale()));
        } catch (ConcurrencyFailureException busy) {
            return new Result(
                    id, "refused", messages.getMessage("training.walks.busy", null, LocaleContextHolder.getLocale()));
        }
    }

    private void record(Walk walk) {
        Map<String, @Nullable String> fields = walk.fields() == null ? Map.of() : walk.fields();
        UUID rowId = walk.row();
        String kind = walk.kind() == null ? "" : walk.kind();
        if (rowId == null || fields.size() > MOST_FIELDS) {
            throw new Refused("training.walks.unreadable");
        }
        Row row = ground.row(rowId).orElseThrow(() -> new Refused("training.walks.no-row"));
        LocalDate on = day(fields.get("on"));
        switch (kind) {
            case "walk" ->
                walks.walk(
                        row,
                        new RowController.WalkForm(
                                text(fields, "places", LONGEST_RUN),
                                state(fields.get("rest")),
                                text(fields, "growing", LONGEST_RUN),
                                text(fields, "weak", LONGEST_RUN),
                                text(fields, "notMoving", LONGEST_RUN),
                                text(fields, "dead", LONGEST_RUN),
                                text(fields, "missing", LONGEST_RUN),
                                on,
                                text(fields, "note", LONGEST)),
                        current.accountId());
            case "shoots" ->
                walks.shoots(
                        row,
                        new ShootsController.ShootsForm(
                                taps(fields, "shoots", WalksController::number),
                                taps(fields, "height", WalksController::number),
                                taps(fields, "chosen", "true"::equals),
                                on),
                        current.accountId());
            default -> throw new Refused("training.walks.unreadable");
        }
    }

    private static LocalDate day(@Nullable String text) {
        try {
            LocalDate day = LocalDate.parse(text == null ? "" : text);
            if (!day.isBefore(EARLIEST)) {
                return day;
            }
        } catch (DateTimeParseException unreadable) {
            // refused below like any other day that cannot be
        }
        throw new Refused("training.walks.no-day");
    }

    private static @Nullable String text(Map<String, @Nullable String> fields, String name, int longest) {
        String text = fields.get(name);
        if (text != null && text.length() > longest) {
            throw new Refused("training.walks.too-long", longest);
        }
        return text;
    }

    private static @Nullable VineState state(@Nullable String name) {
        if (name == null || name.isEmpty()) {
            return null;
        }
        return VineState.SEEN.stream()
                .filter(state -> state.name().equals(name))
                .findFirst()
                .orElseThrow(() -> new Refused("training.walks.unreadable"));
    }

    private static int number(String text) {
        if (!NUMBER.matcher(text).matches()) {
            throw new Refused("training.walks.unreadable");
        }
        return Integer.parseInt(text);
    }

    /** Taps of one kind by place, as "shoots[7]" names them. */
    private static <T> Map<Integer, T> taps(
            Map<String, @Nullable String> fields, String kind, Function<String, T> read) {
        Map<Integer, T> taps = new HashMap<>();
        fields.forEach((name, value) -> {
            Matcher tap = TAP.matcher(name);
            if (value != null && tap.matches() && kind.equals(tap.group(1))) {
                taps.put(Integer.parseInt(tap.group(2)), read.apply(value));
            }
        });
        return taps;
    }
}
