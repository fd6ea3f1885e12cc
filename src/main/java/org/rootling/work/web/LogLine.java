package org.rootling.work.web;

import java.util.List;
import java.util.Map;
import java.util.UUID;
import org.rootling.ground.PlaceRun;
import org.rootling.work.FieldLog;
import org.rootling.work.domain.EntryPhotos;

/** A log as a page shows it. */
record LogLine(FieldLog.Logged log, String places, List<UUID> photos) {
    static List<LogLine> of(List<FieldLog.Logged> logs, EntryPhotos photos) {
        Map<UUID, List<UUID>> known =
                photos.of(logs.stream().map(FieldLog.Logged::id).toList());
        return logs.stream()
                .map(l -> new LogLine(l, PlaceRun.shorten(l.places()), known.getOrDefault(l.id(), List.of())))
                .toList();
    }
}
