@NullMarked
package org.rootling.review.domain;

import org.jspecify.annotations.NullMarked;
