/** Plans, orders and readings as they are kept. */
@NullMarked
package org.rootling.trellis.domain;

import org.jspecify.annotations.NullMarked;
