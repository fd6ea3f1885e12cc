/**
 * The arithmetic of work: a schedule of crews and tools, rates learned from logs, and simulated
 * seasons. Plain Java: no framework, no database, no clock.
 */
@NullMarked
package org.rootling.work.calc;

import org.jspecify.annotations.NullMarked;
