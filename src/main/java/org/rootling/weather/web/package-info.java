/** Pages and API of the weather. */
@NullMarked
package org.rootling.weather.web;

import org.jspecify.annotations.NullMarked;
