package org.rootling.people;

import java.util.UUID;

/** A person of the current vineyard. */
public record Member(UUID accountId, String name, String email, Role role) {}
