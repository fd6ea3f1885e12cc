package org.rootling.weather.domain;

/** What a column of a file holds. */
public enum Column {
    IGNORE,
    DATE,
    YEAR,
    MONTH,
    DAY,
    DAY_OF_YEAR,
    LOW,
    HIGH,
    RAIN,
    WIND,
    HUMIDITY,
    HUMIDITY_HIGH,
    HUMIDITY_LOW,
    RADIATION,
    SUN
}
