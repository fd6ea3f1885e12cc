/** The hold clock: how long vines may still wait where they stand. Plain functions and records, no clock, no database. */
@NullMarked
package org.rootling.nursery.calc;

import org.jspecify.annotations.NullMarked;
