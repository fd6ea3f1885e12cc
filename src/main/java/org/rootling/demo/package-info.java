/** Seeds our own invented vineyard through the interfaces of all modules; only in the demo profile. */
@ApplicationModule(
        allowedDependencies = {
            "platform",
            "platform :: db",
            "people",
            "weather",
            "ground",
            "trellis",
            "nursery",
            "work",
            "planting",
            "training"
        })
@NullMarked
package org.rootling.demo;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
