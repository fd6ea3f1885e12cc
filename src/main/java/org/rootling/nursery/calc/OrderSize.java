package org.rootling.nursery.calc;

import org.apache.commons.statistics.distribution.BinomialDistribution;

/**
 * How many vines to order so that enough of them grow. Every vine is taken to grow with the same chance, independently of
 * the others, so that the number that grows is binomial. Losses that come together (a frost, a dried bundle) make the
 * true risk larger: the answer is a floor, not a promise.
 */
public final class OrderSize {

    /** Most places that can be asked for. */
    public static final int MOST = 1_000_000;

    /**
     * What to order.
     *
     * @param vines to order, whole bundles
     * @param bundles how many that are
     * @param chance that at least the places and spares wanted grow, from 0 to 1
     * @param expectedLeft vines expected to be left over
     */
    public record Answer(int vines, int bundles, double chance, double expectedLeft) {}

    private OrderSize() {}

    /**
     * The fewest whole bundles with which enough vines grow with the chance wanted.
     *
     * @param places to fill
     * @param spares wanted alive beyond them
     * @param loss expected share that does not grow, from 0 to below 1
     * @param sure chance wanted, above 0 and below 1
     * @param bundle vines in a bundle
     */
    public static Answer of(int places, int spares, double loss, double sure, int bundle) {
        int wanted = Math.addExact(places, spares);
        if (places < 1 || spares < 0 || wanted > MOST || bundle < 1) {
            throw new IllegalArgumentException("places, spares and bundle must be sensible numbers");
        }
        if (!(loss >= 0 && loss <= 0.9) || !(sure > 0 && sure < 1)) {
            throw new IllegalArgumentException("shares lie between 0 and 1");
        }
        int low = ceilDiv(wanted, bundle);
        int high = low;
        while (chance(high * (long) bundle, wanted, loss) < sure) {
            high = Math.multiplyExact(high, 2);
        }
        while (low < high) {
            int middle = low + (high - low) / 2;
            if (chance(middle * (long) bundle, wanted, loss) >= sure) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        int vines = Math.multiplyExact(low, bundle);
        return new Answer(vines, low, chance(vines, wanted, loss), vines * (1 - loss) - places);
    }

    /** The chance that of so many ordered at least so many grow. */
    public static double chance(long ordered, int wanted, double loss) {
        if (ordered < wanted) {
            return 0;
        }
        return BinomialDistribution.of(Math.toIntExact(ordered), 1 - loss).survivalProbability(wanted - 1);
    }

    private static int ceilDiv(int a, int b) {
        return (a + b - 1) / b;
    }
}
