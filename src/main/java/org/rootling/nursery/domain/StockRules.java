package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.time.LocalDate;
import org.jspecify.annotations.Nullable;
import org.rootling.platform.Refused;

/** What is refused wherever stock is moved, so that every way in gives the same answer. */
final class StockRules {

    private static final BigDecimal MOST = new BigDecimal("99999");

    private StockRules() {}

    static void requireCount(int count) {
        if (count < 1 || count > 1_000_000) {
            throw new Refused("nursery.count.out-of-range").at("count");
        }
    }

    static void requirePast(LocalDate on, LocalDate today, String field) {
        if (on.isAfter(today)) {
            throw new Refused("nursery.day.in-the-future").at(field);
        }
    }

    static void requireDay(LotRow lot, LocalDate on, LocalDate today) {
        requirePast(on, today, "on");
        if (on.isBefore(lot.receivedOn())) {
            throw new Refused("nursery.day.before-received", lot.code(), lot.receivedOn()).at("on");
        }
    }

    static void requireDay(HoldRow hold, LocalDate on, LocalDate today) {
        requirePast(on, today, "on");
        if (on.isBefore(hold.since())) {
            throw new Refused("nursery.day.before-placed", hold.since()).at("on");
        }
    }

    static void requireWeek(LocalDate orderedOn, @Nullable LocalDate expected) {
        if (expected != null && expected.isBefore(orderedOn.minusDays(6))) {
            throw new Refused("nursery.order.expected-before-ordered");
        }
    }

    /** A limit is above zero unless zero makes sense for it, and is not warned of only after it is reached. */
    static void requireLimit(ReferenceLists.Limit published, @Nullable BigDecimal warnAt, BigDecimal value) {
        boolean mayBeZero = published.warnAt() == null && !"depletion-fraction".equals(published.allowance());
        boolean tooLow = mayBeZero ? value.signum() < 0 : value.signum() <= 0;
        boolean fraction = "depletion-fraction".equals(published.allowance());
        if (tooLow || value.compareTo(fraction ? BigDecimal.ONE : MOST) >= 0) {
            throw new Refused("nursery.limit.out-of-range").at("value");
        }
        boolean measured =
                "root-depth".equals(published.allowance()) || "crop-coefficient".equals(published.allowance());
        if (measured && value.signum() == 0) {
            throw new Refused("nursery.limit.out-of-range").at("value");
        }
        if (published.warnAt() != null && (warnAt == null || warnAt.signum() < 0 || warnAt.compareTo(value) > 0)) {
            throw new Refused("nursery.limit.warn-after-limit").at("warnAt");
        }
    }
}
