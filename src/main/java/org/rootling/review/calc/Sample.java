package org.rootling.review.calc;

import org.apache.commons.statistics.distribution.TDistribution;

/**
 * A sample of measurements by its number, mean and sample variance.
 *
 * <p>Both intervals are those of a normal sample (G. J. Hahn and W. Q. Meeker, Statistical Intervals, 1991, chapter 4):
 * where the true mean lies, and where one more measurement will lie.
 *
 * @param n number, at least 1
 * @param variance with n - 1; 0 for one measurement
 */
public record Sample(int n, double mean, double variance) {

    public static Sample of(double... values) {
        if (values.length == 0) {
            throw new IllegalArgumentException("no values");
        }
        double mean = 0;
        double squares = 0;
        for (int i = 0; i < values.length; i++) {
            double off = values[i] - mean;
            mean += off / (i + 1);
            squares += off * (values[i] - mean);
        }
        return new Sample(values.length, mean, values.length == 1 ? 0 : squares / (values.length - 1));
    }

    public double deviation() {
        return Math.sqrt(variance);
    }

    /** Half the width of the interval that holds the true mean; the sample needs two measurements. */
    public double meanHalfWidth(double confidence) {
        return quantile(confidence) * Math.sqrt(variance / n);
    }

    /** Half the width of the interval that holds one more measurement; the sample needs two measurements. */
    public double nextHalfWidth(double confidence) {
        return quantile(confidence) * Math.sqrt(variance * (1 + 1.0 / n));
    }

    /** Chance that one more measurement lies below a value; the sample needs two measurements. */
    public double nextBelow(double value) {
        double spread = Math.sqrt(variance * (1 + 1.0 / n));
        if (spread == 0) {
            return value > mean ? 1 : 0;
        }
        return TDistribution.of(n - 1.0).cumulativeProbability((value - mean) / spread);
    }

    private double quantile(double confidence) {
        return TDistribution.of(n - 1.0).inverseSurvivalProbability((1 - confidence) / 2);
    }
}
