package org.rootling.work.calc;

/**
 * How often somebody who is expected does not come: what was typed, corrected by the record, and close to what was typed
 * while the record is short.
 *
 * @param typed share typed by the grower, 0 to 1
 * @param planned days on which somebody was planned, one for each person
 * @param missed of these, days on which they did not come
 */
public record NoShow(double typed, int planned, int missed) {
    /** The weight of what was typed, counted in planned days. Common practice, no source. */
    public static final double TYPED_DAYS = 20;

    /**
     * The share to reckon with: the mean of a beta distribution of mean {@code typed} and weight {@link #TYPED_DAYS} after
     * {@code missed} of {@code planned} binomial trials (Gelman et al., <i>Bayesian Data Analysis</i>, 3rd ed. 2013,
     * sec. 2.4; formula from memory).
     */
    public double share() {
        return (TYPED_DAYS * typed + missed) / (TYPED_DAYS + planned);
    }
}
