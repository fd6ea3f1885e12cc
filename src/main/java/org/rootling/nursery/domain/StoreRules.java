package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.util.EnumMap;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.calc.DryLimit;
import org.rootling.nursery.calc.Limits;
import org.rootling.nursery.calc.Limits.WarmthLimit;
import org.rootling.nursery.domain.ReferenceLists.Limit;

/** The limits in force, as the hold clock takes them. */
final class StoreRules {

    private final Map<StoreKind, Map<String, Limit>> byKind = new EnumMap<>(StoreKind.class);
    private final ReferenceLists lists;

    StoreRules(List<Limit> limits, ReferenceLists lists) {
        this.lists = lists;
        limits.forEach(
                l -> byKind.computeIfAbsent(l.kind(), k -> new HashMap<>()).put(l.allowance(), l));
    }

    /**
     * What a store allows.
     *
     * @param weatherKnown whether a bed's soil water can be reckoned; else the watering interval stands in for it
     */
    Limits of(StoreKind kind, @Nullable BigDecimal setTemperatureC, @Nullable String soil, boolean weatherKnown) {
        return new Limits(value(kind, "days"), warmth(kind, setTemperatureC), dryness(kind, soil, weatherKnown));
    }

    /** How much used makes a level "soon". */
    double warnAt(StoreKind kind, String allowance) {
        Limit limit = limit(kind, allowance);
        if (limit == null) {
            return Double.POSITIVE_INFINITY;
        }
        BigDecimal warn = limit.warnAt();
        return (warn == null ? limit.value() : warn).doubleValue();
    }

    /** How much a day on the road counts against a day in a store. */
    double transitWeight(StoreKind kind) {
        Double weight = value(kind, "transit-weight");
        return weight == null ? 1 : weight;
    }

    private @Nullable WarmthLimit warmth(StoreKind kind, @Nullable BigDecimal setTemperatureC) {
        Double sum = value(kind, "warmth");
        Double base = value(kind, "warmth-base");
        if (sum == null || base == null) {
            return null;
        }
        Double storeC = setTemperatureC == null
                ? value(kind, "set-temperature")
                : Double.valueOf(setTemperatureC.doubleValue());
        // A covered bed is warmer than the air outside: the base is lowered by as much.
        Double warmer = value(kind, "warmth-above-outside");
        return new WarmthLimit(
                base - (warmer == null ? 0 : warmer), null, sum, kind == StoreKind.COLD_STORE ? storeC : null);
    }

    private @Nullable DryLimit dryness(StoreKind kind, @Nullable String soil, boolean weatherKnown) {
        Double depth = value(kind, "root-depth");
        Double fraction = value(kind, "depletion-fraction");
        Double factor = value(kind, "crop-coefficient");
        if (kind.hasSoil() && weatherKnown && depth != null && fraction != null && factor != null) {
            // FAO-56 Eq 82: total available water = 1000 (field capacity - wilting point) × rooting depth.
            double total = 1000 * lists.availableWater(soil) * depth;
            return new DryLimit.Bucket(total, fraction, factor, kind.rainReaches());
        }
        Double interval = value(kind, "watering");
        if (interval != null) {
            return new DryLimit.Interval(interval);
        }
        Double hours = value(kind, "dryness");
        return hours == null ? null : new DryLimit.Hours(hours);
    }

    private @Nullable Double value(StoreKind kind, String allowance) {
        Limit limit = limit(kind, allowance);
        return limit == null ? null : limit.value().doubleValue();
    }

    private @Nullable Limit limit(StoreKind kind, String allowance) {
        return byKind.getOrDefault(kind, Map.of()).get(allowance);
    }
}
