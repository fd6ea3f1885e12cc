package org.rootling.platform;

import java.util.UUID;

/** An application event of one vineyard; asynchronous listeners are run for that vineyard. */
public interface VineyardEvent {

    /** The vineyard in which it happened. */
    UUID vineyardId();
}
