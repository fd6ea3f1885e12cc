/**
 * Calculators of weather, heat, water and frost: plain functions and records, SI units, no clock, no database. Each
 * names the publication its formula comes from.
 */
@NullMarked
@NamedInterface("calc")
package org.rootling.weather.calc;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.NamedInterface;
