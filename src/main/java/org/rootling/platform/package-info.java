/**
 * What every module stands on: tenancy, database, time, units, refusals, forms, jobs and the web shell. Knows no other
 * module.
 */
@ApplicationModule(allowedDependencies = {})
@NullMarked
package org.rootling.platform;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
