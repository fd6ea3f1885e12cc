package org.rootling.nursery.domain;

import java.util.UUID;
import org.jspecify.annotations.Nullable;

/** Where vines of a lot are: an account, and for {@link Account#HOLD} which hold. */
public record Spot(Account account, @Nullable UUID hold) {

    public static final Spot OUTSIDE = new Spot(Account.OUTSIDE, null);
    public static final Spot UNPLACED = new Spot(Account.UNPLACED, null);
    public static final Spot LIFTED = new Spot(Account.LIFTED, null);
    public static final Spot PLANTED = new Spot(Account.PLANTED, null);
    public static final Spot REJECTED = new Spot(Account.REJECTED, null);
    public static final Spot RETURNED = new Spot(Account.RETURNED, null);
    public static final Spot LOST = new Spot(Account.LOST, null);
    public static final Spot SPLIT = new Spot(Account.SPLIT, null);

    public Spot {
        if ((account == Account.HOLD) != (hold != null)) {
            throw new IllegalArgumentException("a hold belongs to the account of holds, and only to it");
        }
    }

    /** The account of one hold. */
    public static Spot hold(UUID hold) {
        return new Spot(Account.HOLD, hold);
    }
}
