/** Accounts, vineyards, membership, invitations and tokens: who may do what, and where. */
@ApplicationModule(allowedDependencies = {"platform", "platform :: web", "platform :: db"})
@NullMarked
package org.rootling.people;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
