/** Trellis: end assemblies, wire and materials, from the accepted rows to what must be bought, cut, set and tightened. */
@NullMarked
package org.rootling.trellis;

import org.jspecify.annotations.NullMarked;
