/**
 * What became of it all: today, how far we are, whether the vines take, what to reorder, and reports to hand on. Reads
 * every module below, also their tables where a sum is wanted, and writes none of them; its own are the samples it
 * keeps.
 */
@ApplicationModule(
        allowedDependencies = {
            "platform",
            "people",
            "weather :: calc",
            "ground",
            "trellis",
            "nursery",
            "work",
            "planting",
            "training",
            "exchange"
        })
@NullMarked
package org.rootling.review;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
