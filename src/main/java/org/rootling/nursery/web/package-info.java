/** The nursery's pages and API. */
@NullMarked
package org.rootling.nursery.web;

import org.jspecify.annotations.NullMarked;
