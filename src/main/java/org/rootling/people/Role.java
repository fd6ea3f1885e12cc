package org.rootling.people;

/** What a member may do in a vineyard; each later role may do all that an earlier one may. */
public enum Role {
    /** Reads, for instance an adviser or inspector. */
    READER,
    /** Sees and logs own tasks, reads plans. */
    HELPER,
    /** Plans, assigns, records. */
    LEAD,
    /** Everything. */
    OWNER;

    /** Whether this role includes the other. */
    public boolean includes(Role other) {
        return compareTo(other) >= 0;
    }
}
