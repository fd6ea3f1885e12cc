/**
 * Trellis: end assemblies, wire and materials, from the accepted rows to what must be bought, cut, set and tightened. It
 * knows the ground and nothing of the work; {@link org.rootling.trellis.RowProgress} is how higher modules tell it what
 * was done.
 */
@ApplicationModule(allowedDependencies = {"platform", "platform :: web", "people", "ground"})
@NullMarked
package org.rootling.trellis;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
