package org.rootling.weather.calc;

/**
 * A crop coefficient over the season: level in the first and third stage, straight lines in the second and fourth.
 *
 * <p>Source: FAO Irrigation and Drainage Paper 56 (1998), equation 66 and Figure 34.
 *
 * @param initialDays length of the first stage, days
 * @param developmentDays of the second
 * @param midDays of the third
 * @param lateDays of the fourth
 * @param initial coefficient in the first stage
 * @param mid in the third
 * @param end at the end of the fourth
 */
public record CropCurve(
        int initialDays, int developmentDays, int midDays, int lateDays, double initial, double mid, double end) {

    /** Wine grapes, Table 12 (0.30, 0.70, 0.45); stage lengths of Table 11, mid-latitudes, from April. */
    public static final CropCurve WINE_GRAPES = new CropCurve(30, 60, 40, 80, 0.30, 0.70, 0.45);

    public CropCurve {
        if (initialDays < 0 || developmentDays < 0 || midDays < 0 || lateDays < 0) {
            throw new IllegalArgumentException("a stage cannot last less than 0 days");
        }
    }

    /**
     * The coefficient on a day.
     *
     * @param day days since the season began, first day 0; before it the initial value holds, after the last the end
     *     value
     */
    public double on(int day) {
        int inDevelopment = day - initialDays;
        int inMid = inDevelopment - developmentDays;
        int inLate = inMid - midDays;
        if (inDevelopment <= 0) {
            return initial;
        }
        if (inMid < 0) {
            return initial + (double) inDevelopment / developmentDays * (mid - initial);
        }
        if (inLate <= 0) {
            return mid;
        }
        return inLate < lateDays ? mid + (double) inLate / lateDays * (end - mid) : end;
    }
}
