/** What comes in and goes out: spreadsheets, the archive of a whole vineyard. */
@ApplicationModule(allowedDependencies = {"platform", "people"})
@NullMarked
package org.rootling.exchange;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
