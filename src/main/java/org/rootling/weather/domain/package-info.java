/** Daily records, their import and fetch, and the sums made of them. */
@NullMarked
package org.rootling.weather.domain;

import org.jspecify.annotations.NullMarked;
