/**
 * Work: the steps, the tasks by row, helpers' days, the log of what was done, conflicts between logs, the schedule and
 * the chance that it is done in time.
 */
@ApplicationModule(
        allowedDependencies = {
            "platform",
            "platform :: web",
            "people",
            "weather",
            "weather :: calc",
            "ground",
            "trellis",
            "nursery"
        })
@NullMarked
package org.rootling.work;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
