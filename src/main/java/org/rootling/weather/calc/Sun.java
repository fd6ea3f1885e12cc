package org.rootling.weather.calc;

/**
 * Where the sun stands and what it would send without an atmosphere. Angles in radians, days of the year 1 to 366.
 *
 * <p>Source: FAO Irrigation and Drainage Paper 56 (1998), chapter 3, equations 21 to 34.
 */
public final class Sun {
    /** Solar constant, MJ per m² and minute. */
    private static final double SOLAR = 0.0820;

    private Sun() {}

    /** Inverse relative distance of earth and sun, equation 23. */
    public static double distanceFactor(int dayOfYear) {
        return 1 + 0.033 * Math.cos(2 * Math.PI * dayOfYear / 365);
    }

    /** Declination of the sun, equation 24, rad. */
    public static double declination(int dayOfYear) {
        return 0.409 * Math.sin(2 * Math.PI * dayOfYear / 365 - 1.39);
    }

    /** Sunset hour angle, equation 25, rad; 0 in the polar night, pi where the sun does not set. */
    public static double sunsetHourAngle(double latitude, int dayOfYear) {
        double cosine = -Math.tan(latitude) * Math.tan(declination(dayOfYear));
        return Math.acos(Math.max(-1, Math.min(1, cosine)));
    }

    /** Extraterrestrial radiation of a day, equation 21, MJ per m². */
    public static double extraterrestrial(double latitude, int dayOfYear) {
        double d = declination(dayOfYear);
        double ws = sunsetHourAngle(latitude, dayOfYear);
        double sum = ws * Math.sin(latitude) * Math.sin(d) + Math.cos(latitude) * Math.cos(d) * Math.sin(ws);
        return Math.max(0, 24 * 60 / Math.PI * SOLAR * distanceFactor(dayOfYear) * sum);
    }

    /** Hours of daylight, equation 34. */
    public static double daylightHours(double latitude, int dayOfYear) {
        return 24 / Math.PI * sunsetHourAngle(latitude, dayOfYear);
    }

    /** Seasonal correction of solar time, equations 32 and 33, hours. */
    public static double seasonalCorrection(int dayOfYear) {
        double b = 2 * Math.PI * (dayOfYear - 81) / 364;
        return 0.1645 * Math.sin(2 * b) - 0.1255 * Math.cos(b) - 0.025 * Math.sin(b);
    }

    /**
     * Solar hour angle at the middle of a period, equation 31, rad.
     *
     * @param clockHour standard clock time at the middle of the period, hours
     * @param zoneWestDeg longitude of the centre of the time zone, degrees west of Greenwich
     * @param westDeg longitude of the place, degrees west of Greenwich
     */
    public static double hourAngle(double clockHour, double zoneWestDeg, double westDeg, int dayOfYear) {
        return Math.PI / 12 * (clockHour + 0.06667 * (zoneWestDeg - westDeg) + seasonalCorrection(dayOfYear) - 12);
    }

    /**
     * Extraterrestrial radiation of a shorter period, equation 28, MJ per m²; 0 while the sun is down.
     *
     * @param middle hour angle at the middle of the period, rad
     * @param hours length of the period
     */
    public static double extraterrestrial(double latitude, int dayOfYear, double middle, double hours) {
        double ws = sunsetHourAngle(latitude, dayOfYear);
        double half = Math.PI * hours / 24;
        double w1 = Math.max(-ws, Math.min(ws, middle - half));
        double w2 = Math.max(-ws, Math.min(ws, middle + half));
        double d = declination(dayOfYear);
        double sum = (w2 - w1) * Math.sin(latitude) * Math.sin(d)
                + Math.cos(latitude) * Math.cos(d) * (Math.sin(w2) - Math.sin(w1));
        return Math.max(0, 12 * 60 / Math.PI * SOLAR * distanceFactor(dayOfYear) * sum);
    }
}
