package org.rootling.ground.calc;

import org.jspecify.annotations.Nullable;

/** The little linear algebra that at most 21 unknowns need. */
final class Matrices {
    private Matrices() {}

    /** Solves a x = b by elimination with pivots; null when a is singular. Leaves a and b alone. */
    static double @Nullable [] solve(double[][] a, double[] b) {
        int n = b.length;
        double[][] m = new double[n][];
        for (int i = 0; i < n; i++) {
            m[i] = java.util.Arrays.copyOf(a[i], n + 1);
            m[i][n] = b[i];
        }
        for (int c = 0; c < n; c++) {
            int pivot = c;
            for (int r = c + 1; r < n; r++) {
                if (Math.abs(m[r][c]) > Math.abs(m[pivot][c])) {
                    pivot = r;
                }
            }
            if (Math.abs(m[pivot][c]) < 1e-9) {
                return null;
            }
            double[] swap = m[c];
            m[c] = m[pivot];
            m[pivot] = swap;
            for (int r = 0; r < n; r++) {
                double f = r == c ? 0 : m[r][c] / m[c][c];
                for (int k = c; f != 0 && k <= n; k++) {
                    m[r][k] -= f * m[c][k];
                }
            }
        }
        double[] x = new double[n];
        for (int i = 0; i < n; i++) {
            x[i] = m[i][n] / m[i][i];
        }
        return x;
    }

    /** The inverse of a matrix known to have one. */
    static double[][] inverse(double[][] a) {
        int n = a.length;
        double[][] inverse = new double[n][n];
        for (int c = 0; c < n; c++) {
            double[] unit = new double[n];
            unit[c] = 1;
            double[] column = solve(a, unit);
            for (int r = 0; column != null && r < n; r++) {
                inverse[r][c] = column[r];
            }
        }
        return inverse;
    }

    /** v' M v. */
    static double quadratic(double[] v, double[][] m) {
        double sum = 0;
        for (int i = 0; i < v.length; i++) {
            for (int j = 0; j < v.length; j++) {
                sum += v[i] * m[i][j] * v[j];
            }
        }
        return sum;
    }
}
