/**
 * The ground: blocks with their boundary, the rows fitted to it, and the places in the rows; what to measure to put the
 * plan on the field.
 */
@NullMarked
package org.rootling.ground;

import org.jspecify.annotations.NullMarked;
