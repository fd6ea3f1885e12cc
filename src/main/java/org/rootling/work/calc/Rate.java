package org.rootling.work.calc;

import java.util.List;
import org.apache.commons.statistics.distribution.NormalDistribution;

/**
 * How long a unit of work takes, in minutes of one person, as a lognormal distribution.
 *
 * @param logMean mean of ln(minutes per unit)
 * @param logVariance variance of ln(minutes per unit) from one log to the next
 * @param logs number of logs it was learned from
 */
public record Rate(double logMean, double logVariance, int logs) {
    /** The weight of the grower's guess, counted in logs. */
    public static final double GUESS_LOGS = 4;
    /** The spread of the guess: a factor of 1.5 either way holds about two thirds of the time. */
    public static final double GUESS_LOG_SD = Math.log(1.5);

    /** One log: so many units in so many person minutes, both above 0. */
    public record Sample(double units, double minutes) {}

    /** The guess alone; its minutes are the median. */
    public static Rate guess(double minutesPerUnit) {
        return new Rate(Math.log(minutesPerUnit), GUESS_LOG_SD * GUESS_LOG_SD, 0);
    }

    /**
     * Learns from logs, shrunk towards the guess while they are few. With y = ln(minutes / units) normal
     * of unknown mean and variance and the conjugate normal-inverse-chi-square prior, n logs of mean m
     * and sum of squares S about it give
     * <pre>
     *   mean     = (k0 mu0 + n m) / (k0 + n)
     *   variance = (v0 s0^2 + S + k0 n / (k0 + n) (m - mu0)^2) / (v0 + n)
     * </pre>
     * (Gelman et al., <i>Bayesian Data Analysis</i>, 3rd ed. 2013, sec. 3.3; formula from memory), with
     * k0 = v0 = {@link #GUESS_LOGS}.
     */
    public static Rate learn(double guessMinutesPerUnit, List<Sample> samples) {
        Rate prior = guess(guessMinutesPerUnit);
        int n = samples.size();
        if (n == 0) {
            return prior;
        }
        double mean = samples.stream().mapToDouble(Rate::log).average().orElseThrow();
        double squares = samples.stream()
                .mapToDouble(s -> (log(s) - mean) * (log(s) - mean))
                .sum();
        double k = GUESS_LOGS;
        double off = mean - prior.logMean();
        return new Rate(
                (k * prior.logMean() + n * mean) / (k + n),
                (k * prior.logVariance() + squares + k * n / (k + n) * off * off) / (k + n),
                n);
    }

    private static double log(Sample s) {
        return Math.log(s.minutes() / s.units());
    }

    /** Half of all work goes faster than this, in minutes per unit. */
    public double median() {
        return Math.exp(logMean);
    }

    /** Mean minutes per unit: what many units add up to. */
    public double mean() {
        return Math.exp(logMean + logVariance / 2);
    }

    /** Minutes per unit that hold in a share of all cases, for example 0.8. */
    public double quantile(double share) {
        return Math.exp(
                logMean + Math.sqrt(logVariance) * NormalDistribution.of(0, 1).inverseCumulativeProbability(share));
    }
}
