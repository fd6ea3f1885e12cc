/** How vines are kept. */
@NullMarked
package org.rootling.planting.domain;

import org.jspecify.annotations.NullMarked;
