package org.rootling.work.web;

import org.rootling.ground.PlaceRun;
import org.rootling.work.FieldLog;

/** A log as a page shows it. */
record LogLine(FieldLog.Logged log, String places) {
    static LogLine of(FieldLog.Logged log) {
        return new LogLine(log, PlaceRun.shorten(log.places()));
    }
}
