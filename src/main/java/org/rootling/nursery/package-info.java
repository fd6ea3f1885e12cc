/**
 * Planting stock from order to hole: nurseries, orders, deliveries, lots, the stock ledger, the beds and stores where
 * vines wait, and the hold clock that says how long they still may.
 */
@ApplicationModule(allowedDependencies = {"platform", "people", "weather", "weather :: calc", "ground"})
@NullMarked
package org.rootling.nursery;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
