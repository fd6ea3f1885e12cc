package org.rootling.training.calc;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;

/**
 * Guesses the stage from the heat sum, by what was seen at this site: for each stage the median of the sums at which it
 * was first seen. No published sum is assumed: those that were read err by one to three weeks at foreign sites
 * (García de Cortázar-Atauri et al. 2009, Int. J. Biometeorol. 53:317-326: growing degree days base 10 °C err by 9 to 21
 * days).
 */
public final class StageEstimates {

    /** A stage first seen at a heat sum (°C·d, base 10 °C, since planting or since the season began). */
    public record Learned(Bbch stage, double heatSum) {}

    private final TreeMap<Bbch, Double> medians = new TreeMap<>();

    /** Learns from what was seen; sums that would put a later stage before an earlier one are pulled level. */
    public StageEstimates(List<Learned> seen) {
        Map<Bbch, List<Double>> byStage = new TreeMap<>();
        for (Learned one : seen) {
            if (!(one.heatSum() >= 0) || Double.isInfinite(one.heatSum())) {
                throw new IllegalArgumentException("a heat sum must be finite and not negative: " + one.heatSum());
            }
            byStage.computeIfAbsent(one.stage(), k -> new ArrayList<>()).add(one.heatSum());
        }
        double floor = 0;
        for (Map.Entry<Bbch, List<Double>> entry : byStage.entrySet()) {
            floor = Math.max(floor, median(entry.getValue()));
            medians.put(entry.getKey(), floor);
        }
    }

    /** The latest stage whose learned sum is reached; empty where nothing was learned or nothing is reached. */
    public Optional<Bbch> at(double heatSum) {
        Bbch best = null;
        for (Map.Entry<Bbch, Double> entry : medians.entrySet()) {
            if (entry.getValue() <= heatSum) {
                best = entry.getKey();
            }
        }
        return Optional.ofNullable(best);
    }

    /** The stages reached since {@code from} with their estimated days, marked as estimates. */
    public List<StageSeen> reached(DailySeries heat, LocalDate from, LocalDate today) {
        List<StageSeen> reached = new ArrayList<>();
        for (Map.Entry<Bbch, Double> entry : medians.entrySet()) {
            Optional<LocalDate> on = heat.reaches(from, entry.getValue()).filter(d -> !d.isAfter(today));
            on.ifPresent(day -> reached.add(new StageSeen(entry.getKey(), day, true)));
        }
        return reached;
    }

    private static double median(List<Double> values) {
        List<Double> sorted = values.stream().sorted().toList();
        int n = sorted.size();
        return n % 2 == 1 ? sorted.get(n / 2) : (sorted.get(n / 2 - 1) + sorted.get(n / 2)) / 2;
    }
}
