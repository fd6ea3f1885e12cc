package org.rootling.nursery.calc;

/** What a run-out day rests on. The order is from sure to unsure. */
public enum Basis {
    /** The calendar alone. */
    CALENDAR,
    /** The set temperature of the store. */
    STORE_TEMPERATURE,
    /** Measured days: it has happened already. */
    RECORDED,
    /** Forecast days. */
    FORECAST,
    /** The same days of earlier years, with their spread. */
    EARLIER_YEARS,
    /** The last fortnight, repeated. */
    LAST_FORTNIGHT,
    /** No day can be given: too little weather is known, or it does not run out within a year. */
    NONE
}
