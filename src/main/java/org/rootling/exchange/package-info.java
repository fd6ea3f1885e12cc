/** What comes in and goes out: spreadsheets, tables brought along, the archive of a whole vineyard. */
@ApplicationModule(allowedDependencies = {"platform", "people", "ground", "nursery", "work", "planting"})
@NullMarked
package org.rootling.exchange;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
