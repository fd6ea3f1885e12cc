/**
 * The arithmetic of the ground: fitting rows to a field, checking polygons. Records in, records out; metres, degrees
 * clockwise from north; no database, no clock.
 */
@NullMarked
package org.rootling.ground.calc;

import org.jspecify.annotations.NullMarked;
