/** Vines put into places: planting, failure, replacement, what was seen of them, and how many of each state stand where. */
@ApplicationModule(allowedDependencies = {"platform", "people", "ground", "nursery", "work"})
@NullMarked
package org.rootling.planting;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
