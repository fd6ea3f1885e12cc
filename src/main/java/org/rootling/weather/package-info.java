/** The weather of the vineyard: daily records and forecasts, heat sums, evapotranspiration, frost. */
@ApplicationModule(allowedDependencies = {"platform", "people"})
@NullMarked
package org.rootling.weather;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
