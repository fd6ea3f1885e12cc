/** The pages of the first year. */
@NullMarked
package org.rootling.training.web;

import org.jspecify.annotations.NullMarked;
