/**
 * The first year's care: growth stages, the checklist and when its items fall due, ticks by runs of places, shoots and
 * heights; the pages of a row and of a vine.
 */
@ApplicationModule(
        allowedDependencies = {
            "platform",
            "people",
            "weather",
            "weather :: calc",
            "ground",
            "nursery",
            "work",
            "planting"
        })
@NullMarked
package org.rootling.training;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
