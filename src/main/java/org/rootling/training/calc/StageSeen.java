package org.rootling.training.calc;

import java.time.LocalDate;

/**
 * A growth stage on a day.
 *
 * @param estimate true where nobody looked and the stage follows from the heat sum
 */
public record StageSeen(Bbch stage, LocalDate on, boolean estimate) {}
