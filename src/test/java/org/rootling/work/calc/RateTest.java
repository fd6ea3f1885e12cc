package org.rootling.work.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import org.hipparchus.stat.descriptive.DescriptiveStatistics;
import org.junit.jupiter.api.Test;

class RateTest {
    @Test
    void withoutLogsTheGuessHolds() {
        Rate r = Rate.learn(2.5, List.of());
        assertThat(r.median()).isCloseTo(2.5, within(1e-12));
        assertThat(r.quantile(0.5)).isCloseTo(2.5, within(1e-12));
        assertThat(r.logs()).isZero();
    }

    /** Conjugate update of a normal mean and variance, Gelman et al. 2013 sec. 3.3 (from memory). */
    @Test
    void fewLogsPullTheGuessByTheTextbookFormula() {
        double[] perUnit = {3.0, 4.0, 3.5};
        DescriptiveStatistics logs = new DescriptiveStatistics();
        List<Rate.Sample> samples = new ArrayList<>();
        for (double m : perUnit) {
            logs.addValue(Math.log(m));
            samples.add(new Rate.Sample(10, 10 * m));
        }
        double mu0 = Math.log(2);
        double s0 = Math.log(1.5);
        Rate r = Rate.learn(2, samples);
        assertThat(r.logMean()).isCloseTo((4 * mu0 + 3 * logs.getMean()) / 7, within(1e-12));
        double squares = logs.getVariance() * 2;
        double expected = (4 * s0 * s0 + squares + 12.0 / 7 * Math.pow(logs.getMean() - mu0, 2)) / 7;
        assertThat(r.logVariance()).isCloseTo(expected, within(1e-12));
        assertThat(r.median()).isBetween(2.0, 3.5);
    }

    @Test
    void manyLogsDrownTheGuess() {
        List<Rate.Sample> samples = new ArrayList<>();
        for (int i = 0; i < 4000; i++) {
            samples.add(new Rate.Sample(5, 5 * Math.exp(Math.log(3) + (i % 2 == 0 ? 0.2 : -0.2))));
        }
        Rate r = Rate.learn(30, samples);
        assertThat(r.median()).isCloseTo(3, within(0.02));
        assertThat(Math.sqrt(r.logVariance())).isCloseTo(0.2, within(0.02));
    }

    @Test
    void theMeanOfALognormalLiesAboveItsMedian() {
        assertThat(Rate.guess(2).mean()).isCloseTo(2 * Math.exp(Math.pow(Math.log(1.5), 2) / 2), within(1e-12));
    }
}
