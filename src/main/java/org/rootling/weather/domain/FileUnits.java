package org.rootling.weather.domain;

/**
 * The units and habits of a file.
 *
 * @param dates how dates are written
 * @param temperature unit of temperatures
 * @param rain unit of rain
 * @param wind unit of wind
 * @param windHeightM height at which the wind was measured, m; converted to 2 m by FAO-56 equation 47
 * @param radiation unit of radiation
 */
public record FileUnits(
        Dates dates, Temperature temperature, Rain rain, Wind wind, double windHeightM, Radiation radiation) {

    /** Order of the parts of a date; year first is always understood. */
    public enum Dates {
        DAY_FIRST,
        MONTH_FIRST
    }

    /** Units of temperature. */
    public enum Temperature {
        CELSIUS,
        FAHRENHEIT;

        double celsius(double value) {
            return this == CELSIUS ? value : (value - 32) / 1.8;
        }
    }

    /** Units of rain. */
    public enum Rain {
        MM,
        CM,
        INCH;

        double mm(double value) {
            return switch (this) {
                case MM -> value;
                case CM -> value * 10;
                case INCH -> value * 25.4;
            };
        }
    }

    /** Units of wind. */
    public enum Wind {
        METRES_PER_SECOND,
        KM_PER_HOUR,
        MILES_PER_HOUR,
        KNOTS;

        double metresPerSecond(double value) {
            return switch (this) {
                case METRES_PER_SECOND -> value;
                case KM_PER_HOUR -> value / 3.6;
                case MILES_PER_HOUR -> value * 0.44704;
                case KNOTS -> value * 0.514444;
            };
        }
    }

    /** Units of a day's radiation. */
    public enum Radiation {
        MEGAJOULES,
        WATT_HOURS,
        KILOWATT_HOURS,
        /** Mean over the whole day, W per m². */
        MEAN_WATTS;

        double megajoules(double value) {
            return switch (this) {
                case MEGAJOULES -> value;
                case WATT_HOURS -> value * 0.0036;
                case KILOWATT_HOURS -> value * 3.6;
                case MEAN_WATTS -> value * 0.0864;
            };
        }
    }

    /** Metric units, day first, wind at 10 m as at weather stations. */
    public static final FileUnits USUAL = new FileUnits(
            Dates.DAY_FIRST, Temperature.CELSIUS, Rain.MM, Wind.METRES_PER_SECOND, 10, Radiation.MEGAJOULES);
}
