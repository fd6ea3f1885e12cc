/** How the first year is kept. */
@NullMarked
package org.rootling.training.domain;

import org.jspecify.annotations.NullMarked;
