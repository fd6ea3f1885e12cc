package org.rootling.review.calc;

import java.util.List;
import java.util.TreeSet;
import org.apache.commons.statistics.distribution.ChiSquaredDistribution;
import org.jspecify.annotations.Nullable;

/**
 * The log-rank test: whether groups die at the same pace over the whole time watched (N. Mantel, 1966; D. Collett,
 * Modelling Survival Data in Medical Research, chapter 2), with the hypergeometric variance, any number of groups.
 *
 * @param chiSquare the statistic
 * @param degreesOfFreedom groups that could be compared, less one
 * @param p chance of a statistic as large or larger if the groups do not differ
 */
public record LogRank(double chiSquare, int degreesOfFreedom, double p) {

    /**
     * The test between the groups; null where there is nothing to compare (fewer than two groups with lives, or no
     * death while vines of two groups were at risk).
     */
    public static @Nullable LogRank of(List<LifeTable> groups) {
        List<LifeTable> tables = groups.stream().filter(g -> g.lives() > 0).toList();
        int k = tables.size();
        if (k < 2) {
            return null;
        }
        var days = new TreeSet<Integer>();
        tables.forEach(t -> days.addAll(t.byDay().keySet()));
        double[] excess = new double[k];
        double[][] covariance = new double[k][k];
        long[] atRisk = tables.stream().mapToLong(LifeTable::lives).toArray();
        long[] died = new long[k];
        for (int day : days) {
            long allDied = 0;
            long all = 0;
            for (int i = 0; i < k; i++) {
                long[] counts = tables.get(i).byDay().get(day);
                died[i] = counts == null ? 0 : counts[0];
                allDied += died[i];
                all += atRisk[i];
            }
            if (allDied > 0) {
                addDay(excess, covariance, atRisk, died, all, allDied);
            }
            for (int i = 0; i < k; i++) {
                long[] counts = tables.get(i).byDay().get(day);
                atRisk[i] -= counts == null ? 0 : counts[0] + counts[1];
            }
        }
        return statistic(excess, covariance);
    }

    private static void addDay(
            double[] excess, double[][] covariance, long[] atRisk, long[] died, long all, long allDied) {
        double share = (double) allDied / all;
        double spread = all > 1 ? share * (all - allDied) / (all - 1) : 0;
        for (int i = 0; i < excess.length; i++) {
            if (atRisk[i] == 0) {
                continue;
            }
            excess[i] += died[i] - share * atRisk[i];
            double part = (double) atRisk[i] / all;
            for (int j = 0; j < excess.length; j++) {
                covariance[i][j] += spread * atRisk[j] * ((i == j ? 1 : 0) - part);
            }
        }
    }

    /**
     * Excess' x inverse(covariance) x excess by elimination with the largest pivot. The covariance of k groups has at
     * most rank k - 1; its real rank, found on the way, is the number of degrees of freedom.
     */
    private static @Nullable LogRank statistic(double[] excess, double[][] covariance) {
        int k = excess.length;
        double scale = 0;
        for (int i = 0; i < k; i++) {
            scale = Math.max(scale, covariance[i][i]);
        }
        boolean[] used = new boolean[k];
        double chiSquare = 0;
        int rank = 0;
        while (rank < k - 1) {
            int pivot = -1;
            for (int i = 0; i < k; i++) {
                if (!used[i] && (pivot < 0 || covariance[i][i] > covariance[pivot][pivot])) {
                    pivot = i;
                }
            }
            double variance = covariance[pivot][pivot];
            if (!(variance > scale * 1e-10)) {
                break;
            }
            chiSquare += excess[pivot] * excess[pivot] / variance;
            used[pivot] = true;
            rank++;
            for (int i = 0; i < k; i++) {
                if (!used[i]) {
                    double factor = covariance[i][pivot] / variance;
                    excess[i] -= factor * excess[pivot];
                    for (int j = 0; j < k; j++) {
                        covariance[i][j] -= factor * covariance[pivot][j];
                    }
                }
            }
        }
        if (rank == 0) {
            return null;
        }
        return new LogRank(chiSquare, rank, ChiSquaredDistribution.of(rank).survivalProbability(chiSquare));
    }
}
