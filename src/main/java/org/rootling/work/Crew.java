package org.rootling.work;

import java.math.BigDecimal;
import java.util.List;

/** People who can be given work without an account; for imports. */
public interface Crew {

    /** Whether somebody of this name can be given work; upper and lower case are the same. */
    boolean knows(String name);

    /**
     * Adds somebody who is only a name on paper.
     *
     * @param hours by weekday, Monday first, each from 0 to 16
     */
    void addOnPaper(String name, List<BigDecimal> hours);
}
