package org.rootling.review.calc;

/**
 * What to reorder of one variety on one rootstock: nurseries sell whole bundles.
 *
 * @param gaps places whose vine is dead or missing
 * @param inHand vines of the same kind not yet planted, used first
 * @param needed vines to buy for the gaps
 * @param spares vines beyond those needed, from the spare share and from rounding up to whole bundles
 * @param bundles whole bundles to order
 * @param vines vines to order: {@code bundles} times the bundle size, {@code needed + spares}
 */
public record Reorder(int gaps, int inHand, int needed, int spares, int bundles, int vines) {

    /** Vines in a nursery bundle (Winegrowers Supplies, Planting Grafted Vines; check value P05). */
    public static final int BUNDLE = 25;

    /** Two in a hundred more than needed (lecture notes: order 1-2 % extra; reference 02). */
    public static final double SPARE_SHARE = 0.02;

    /**
     * The order for the gaps that vines in hand do not fill.
     *
     * @param spareShare spare vines as a share of those needed, rounded up to a vine; 0 to 1
     * @param bundle vines in a bundle, at least 1
     */
    public static Reorder of(int gaps, int inHand, double spareShare, int bundle) {
        if (gaps < 0 || inHand < 0 || !(spareShare >= 0 && spareShare <= 1) || bundle < 1) {
            throw new IllegalArgumentException(
                    gaps + " gaps, " + inHand + " in hand, spare share " + spareShare + ", bundle of " + bundle);
        }
        int needed = Math.max(0, gaps - inHand);
        int wanted = needed + (int) Math.ceil(needed * spareShare - 1e-9);
        int bundles = (wanted + bundle - 1) / bundle;
        return new Reorder(gaps, inHand, needed, bundles * bundle - needed, bundles, bundles * bundle);
    }
}
