package org.rootling.work;

import java.math.BigDecimal;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** People who can be given work: for imports, and for who looks for somebody. */
public interface Crew {

    /**
     * Somebody who can be given work.
     *
     * @param account null for who is only a name on paper
     * @param name marked where somebody else has the same
     */
    record Named(UUID id, @Nullable UUID account, String name) {}

    /** All who can be given work now, by name. */
    List<Named> present();

    /** Whether somebody of this name can be given work; upper and lower case are the same. */
    boolean knows(String name);

    /**
     * Adds somebody who is only a name on paper.
     *
     * @param hours by weekday, Monday first, each from 0 to 16
     */
    void addOnPaper(String name, List<BigDecimal> hours);
}
