/** The nursery's records and rules. */
@NullMarked
package org.rootling.nursery.domain;

import org.jspecify.annotations.NullMarked;
