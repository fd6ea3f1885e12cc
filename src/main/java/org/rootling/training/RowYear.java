package org.rootling.training;

import java.util.List;

/**
 * The first year of a row.
 *
 * @param lines every item, in the order of their standing, then of the list; none without a living vine
 * @param ticks latest first
 */
public record RowYear(List<CareLine> lines, List<CareTick> ticks) {}
