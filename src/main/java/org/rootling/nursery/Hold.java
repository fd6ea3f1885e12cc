package org.rootling.nursery;

import java.time.LocalDate;
import java.util.List;
import java.util.UUID;
import org.jspecify.annotations.Nullable;

/**
 * A lot, or part of it, standing somewhere it cannot stay, with its clock.
 *
 * @param store name of the store
 * @param count vines that stand there
 * @param since the day they were placed
 * @param level the most pressing level of its allowances
 * @param runsOutOn the earliest run-out; null when nothing runs out within a year
 * @param deciding which allowance that is; empty without one
 * @param basis what that day rests on, as in {@link Allowance}
 * @param unknown allowances that apply but cannot be read because no weather is known
 * @param advice what would gain time, most gain first
 */
public record Hold(
        UUID id,
        UUID lotId,
        String lotCode,
        String store,
        StoreKind kind,
        int count,
        LocalDate since,
        List<Allowance> allowances,
        Level level,
        @Nullable LocalDate runsOutOn,
        String deciding,
        String basis,
        List<String> unknown,
        List<Advice> advice,
        UUID storeId,
        String variety,
        String rootstock) {

    public Hold {
        allowances = List.copyOf(allowances);
        unknown = List.copyOf(unknown);
        advice = List.copyOf(advice);
    }

    /** One allowance by its kind, or null where it does not apply. */
    public @Nullable Allowance allowance(String kindName) {
        return allowances.stream()
                .filter(a -> a.kind().equals(kindName))
                .findFirst()
                .orElse(null);
    }

    /** The earliest run-out of what watering cannot renew: by then the vines must be planted or moved. */
    public @Nullable LocalDate plantBy() {
        LocalDate earliest = null;
        for (Allowance a : allowances) {
            LocalDate out = a.runsOutOn();
            if (!a.kind().equals("dryness") && out != null && (earliest == null || out.isBefore(earliest))) {
                earliest = out;
            }
        }
        return earliest;
    }
}
