package org.rootling.nursery.domain;

import java.time.LocalDate;
import org.rootling.nursery.calc.HoldWeather;
import org.springframework.stereotype.Component;

/** The weather as the hold clock wants it. */
@Component
class BedWeather {

    /** The weather seen from the start of a day. */
    HoldWeather asOf(LocalDate day) {
        return HoldWeather.none(day);
    }
}
