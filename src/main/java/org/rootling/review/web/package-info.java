@NullMarked
package org.rootling.review.web;

import org.jspecify.annotations.NullMarked;
