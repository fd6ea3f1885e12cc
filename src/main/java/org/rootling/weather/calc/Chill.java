package org.rootling.weather.calc;

/**
 * Hours of chill: hours between 0 and 7.2 °C (45 °F), from memory. The course of the day is taken as a sine between
 * lowest and highest temperature, so hours are estimates.
 */
public final class Chill {
    private static final double LOWEST = 0;
    private static final double HIGHEST = 7.2;

    private Chill() {}

    /** Chill hours of one day, 0 to 24. */
    public static double hours(double lowC, double highC) {
        return Math.max(0, hoursBelow(lowC, highC, HIGHEST) - hoursBelow(lowC, highC, LOWEST));
    }

    /** Hours of a day below a temperature, by the sine. */
    static double hoursBelow(double lowC, double highC, double limitC) {
        if (highC <= limitC) {
            return 24;
        }
        if (lowC >= limitC) {
            return 0;
        }
        double middle = (lowC + highC) / 2;
        double half = (highC - lowC) / 2;
        return 24 * (0.5 + Math.asin((limitC - middle) / half) / Math.PI);
    }
}
