/**
 * The ground: blocks with their boundary, the rows fitted to it, and the places in the rows; what to measure to put the
 * plan on the field. May use what people and platform offer; knows nothing of vines, work or stock.
 */
@ApplicationModule(allowedDependencies = {"platform", "people"})
@NullMarked
package org.rootling.ground;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
