package org.rootling.training.domain;

import java.time.LocalDate;
import org.rootling.training.calc.DailySeries;

/** The site's weather as the checklist needs it. */
interface SiteWeather {

    /** Degree days base 10 °C and rain in mm, measured days only. */
    record Series(DailySeries heat, DailySeries rain) {}

    /** From a day to another, both included. */
    Series since(LocalDate from, LocalDate to);
}
