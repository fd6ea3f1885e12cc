/**
 * Trellis arithmetic: end-post geometry, statics, wire, line posts, quantities. Plain Java, SI units, no Spring, no
 * database, no clock.
 */
@NullMarked
package org.rootling.trellis.calc;

import org.jspecify.annotations.NullMarked;
