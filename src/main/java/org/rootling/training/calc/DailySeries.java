package org.rootling.training.calc;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Optional;

/**
 * One number a day from a first day on, without gaps: degree days (°C·d) or rain (mm). Days without a record count as
 * zero, so sums are lower bounds.
 */
public final class DailySeries {

    /** No record at all. */
    public static final DailySeries EMPTY = new DailySeries(LocalDate.EPOCH, new double[0]);

    private final LocalDate first;
    private final double[] values;
    private final double[] before;

    /** @param values finite and not negative */
    public DailySeries(LocalDate first, double[] values) {
        this.first = first;
        this.values = values.clone();
        this.before = new double[values.length + 1];
        for (int i = 0; i < values.length; i++) {
            if (!(values[i] >= 0) || Double.isInfinite(values[i])) {
                throw new IllegalArgumentException("a daily value must be finite and not negative: " + values[i]);
            }
            before[i + 1] = before[i] + values[i];
        }
    }

    /** Sum of the days from {@code from} to {@code to}, both included; 0 where the span is empty or unrecorded. */
    public double sum(LocalDate from, LocalDate to) {
        int low = clamp(ChronoUnit.DAYS.between(first, from));
        int high = clamp(ChronoUnit.DAYS.between(first, to) + 1);
        return high <= low ? 0 : before[high] - before[low];
    }

    /** First day on which the running sum from {@code from} on reaches {@code target}, if it was reached. */
    public Optional<LocalDate> reaches(LocalDate from, double target) {
        int low = clamp(ChronoUnit.DAYS.between(first, from));
        for (int i = low; i < values.length; i++) {
            if (before[i + 1] - before[low] >= target) {
                return Optional.of(first.plusDays(i));
            }
        }
        return Optional.empty();
    }

    /** Last day from {@code from} to {@code to} with at least this value, if any. */
    public Optional<LocalDate> lastAtLeast(LocalDate from, LocalDate to, double value) {
        int low = clamp(ChronoUnit.DAYS.between(first, from));
        for (int i = clamp(ChronoUnit.DAYS.between(first, to) + 1) - 1; i >= low; i--) {
            if (values[i] >= value) {
                return Optional.of(first.plusDays(i));
            }
        }
        return Optional.empty();
    }

    private int clamp(long index) {
        return (int) Math.max(0, Math.min(values.length, index));
    }
}
