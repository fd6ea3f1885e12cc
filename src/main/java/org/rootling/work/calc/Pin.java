package org.rootling.work.calc;

import java.time.LocalDate;

/** A fixed choice of the lead: this person works on this job on this date. */
public record Pin(String job, String helper, LocalDate date) {}
