package org.rootling.work.domain;

import java.time.Duration;
import java.time.Instant;
import java.time.ZoneId;
import java.util.HashSet;
import java.util.List;
import java.util.Objects;
import java.util.Set;
import java.util.SortedSet;
import java.util.TreeSet;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.PlaceRun;
import org.rootling.ground.Row;
import org.rootling.platform.Refused;
import org.rootling.work.FieldLog.Entry;
import org.rootling.work.Found;
import org.rootling.work.TaskStatus;

/**
 * The rules an entry must keep. Page, API and outbox get the same answers. What is merely malformed is refused, to be
 * corrected where it was written; what was really done but contradicts the records is kept as a conflict.
 */
final class LogRules {
    /** Longest working time that one entry may hold: several people's day. */
    static final int MOST_MINUTES = 1440;

    private static final Duration CLOCK_SLACK = Duration.ofMinutes(15);
    private static final Duration CLOCK_MOST_AHEAD = Duration.ofDays(3);
    private static final Duration OLDEST = Duration.ofDays(400);

    private final Instant now;
    private final ZoneId zone;
    private final Set<UUID> helpers;
    private final Set<UUID> replaced;

    /**
     * The rules of a moment.
     *
     * @param helpers people without an account, for whom a lead may write down work
     * @param replaced rows that a later layout has replaced
     */
    LogRules(Instant now, ZoneId zone, Set<UUID> helpers, Set<UUID> replaced) {
        this.replaced = replaced;
        this.helpers = helpers;
        this.now = now;
        this.zone = zone;
    }

    /**
     * Judges an entry.
     *
     * @param may whether its author may log on any task; otherwise only on those given to them or to nobody
     */
    Verdict judge(
            Entry e, TaskStore.@Nullable Stored task, @Nullable Row row, UUID by, boolean may, Standing standing) {
        if (task == null || row == null) {
            return Verdict.Bad.of("task", "work.log.unknown-task");
        }
        SortedSet<Integer> places;
        try {
            PlaceRun run = PlaceRun.parse(e.run());
            if (e.but() != null) {
                run = run.but(e.but());
            }
            if (!run.blockCode().equals(row.blockCode()) || run.row() != row.number()) {
                return Verdict.Bad.of("places", "work.log.other-row", row.blockCode() + " r" + row.number());
            }
            places = run.within(row.places()).places();
        } catch (Refused refused) {
            return Verdict.Bad.of(refused.at("places"));
        }
        if (e.person() != null && !may) {
            // A helper's page has no such field: said where they look.
            return Verdict.Bad.of("places", "work.log.not-for-others");
        }
        if (e.person() != null && !helpers.contains(e.person())) {
            return Verdict.Bad.of("person", "work.log.unknown-helper");
        }
        Verdict form = form(e, task, row, places);
        if (form != null) {
            return form;
        }
        LogStore.Stored log = new LogStore.Stored(
                e.id(),
                task.id,
                places,
                List.copyOf(new HashSet<>(e.found())),
                e.minutes(),
                e.at().atZone(zone).toLocalDate(),
                e.at(),
                by,
                e.note() == null || e.note().isBlank() ? null : e.note().strip(),
                e.person(),
                null,
                null);
        if (replaced.contains(row.id())) {
            // The new row of that number is another one: what was done must not be taken for it.
            return new Verdict.Against(
                    Verdict.Kind.NOT_POSSIBLE, log, "ground.row.replaced", List.of(row.name()), null);
        }
        return contradiction(log, task, may, standing);
    }

    /** What stands against a set of places of a task. */
    interface Standing {
        @Nullable
        UUID against(UUID task, Set<Integer> places);
    }

    private @Nullable Verdict form(Entry e, TaskStore.Stored task, Row row, SortedSet<Integer> places) {
        for (Found f : e.found()) {
            if (!Found.WHAT.contains(f.what())) {
                return Verdict.Bad.of("found", "work.log.unknown-finding", shorten(f.what()));
            }
            if (f.place() < 1 || f.place() > row.places()) {
                return Verdict.Bad.of("found", "work.log.found-outside", f.place(), row.places());
            }
        }
        if (places.isEmpty() && e.found().isEmpty()) {
            return Verdict.Bad.of("places", "work.log.nothing");
        }
        for (int p : places) {
            if (!task.places.contains(p)) {
                return Verdict.Bad.of("places", "work.log.outside-task", p, PlaceRun.shorten(task.places));
            }
        }
        if (e.minutes() != null && (e.minutes() < 0 || e.minutes() > MOST_MINUTES)) {
            return Verdict.Bad.of("minutes", "work.log.minutes", MOST_MINUTES);
        }
        if (e.note() != null && e.note().length() > 500) {
            return Verdict.Bad.of("note", "work.log.note-long", 500);
        }
        if (e.at().isAfter(now.plus(CLOCK_MOST_AHEAD))) {
            return Verdict.Bad.of("at", "work.log.future");
        }
        if (e.at().isBefore(now.minus(OLDEST))) {
            return Verdict.Bad.of("at", "work.log.too-old", OLDEST.toDays());
        }
        return null;
    }

    private Verdict contradiction(LogStore.Stored log, TaskStore.Stored task, boolean may, Standing standing) {
        SortedSet<Integer> again = new TreeSet<>(log.places());
        again.retainAll(task.done);
        if (!again.isEmpty()) {
            return new Verdict.Against(
                    Verdict.Kind.PLACES_DONE,
                    log,
                    "work.log.places-done",
                    List.of(PlaceRun.shorten(again)),
                    standing.against(task.id, again));
        }
        if (task.status == TaskStatus.DROPPED || task.status == TaskStatus.CLOSED) {
            return new Verdict.Against(Verdict.Kind.TASK_ENDED, log, "work.log.task-ended", List.of(), null);
        }
        if (!may && !task.people.isEmpty() && !task.people.contains(log.by())) {
            return new Verdict.Against(Verdict.Kind.NOT_POSSIBLE, log, "work.log.not-yours", List.of(), null);
        }
        if (log.at().isAfter(now.plus(CLOCK_SLACK))) {
            return new Verdict.Against(Verdict.Kind.CLOCK_AHEAD, log, "work.log.clock-ahead", List.of(), null);
        }
        return new Verdict.Good(log);
    }

    private static String shorten(String text) {
        return Objects.requireNonNullElse(text, "").length() > 40 ? text.substring(0, 40) : text;
    }
}
