package org.rootling.nursery.domain;

/** How far an order is. What has come is counted from deliveries. */
public enum OrderStatus {
    PLACED,
    CONFIRMED,
    CANCELLED;

    boolean mayBecome(OrderStatus to) {
        return switch (this) {
            case PLACED -> to == CONFIRMED || to == CANCELLED;
            case CONFIRMED -> to == PLACED || to == CANCELLED;
            case CANCELLED -> false;
        };
    }
}
