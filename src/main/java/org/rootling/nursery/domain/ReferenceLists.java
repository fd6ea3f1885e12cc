package org.rootling.nursery.domain;

import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.StoreKind;
import org.rootling.nursery.VineColour;
import org.rootling.platform.ShippedData;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** The published lists of {@code shared/reference}, read once, and what the vineyard added to them. */
@Component
public class ReferenceLists {

    /**
     * A variety with where its facts come from.
     *
     * @param vivc number in the Vitis International Variety Catalogue, empty if not known
     * @param own whether this vineyard added it
     */
    public record Variety(
            String name,
            VineColour colour,
            String vivc,
            String parentage,
            String budBurst,
            String ripening,
            String note,
            String source,
            String how,
            boolean own) {}

    /**
     * A rootstock with where its facts come from; ratings from 0 to 5, empty where not read.
     *
     * @param activeLime most active lime it stands, percent, empty if not known
     */
    public record Rootstock(
            String name,
            String parentage,
            String drought,
            String lime,
            String vigour,
            String activeLime,
            String note,
            String source,
            String how,
            boolean own) {}

    /**
     * A soil's available water, m³/m³, as a range.
     *
     * @param low least
     * @param high most
     */
    public record Soil(String name, double low, double high, String source) {}

    /**
     * A limit of a kind of store.
     *
     * @param allowance what it limits
     * @param warnAt from where on it warns, null where there is nothing to warn of
     * @param how how the figure was obtained
     * @param own whether this vineyard set it
     */
    public record Limit(
            StoreKind kind,
            String allowance,
            @Nullable BigDecimal warnAt,
            BigDecimal value,
            String unit,
            String source,
            String how,
            boolean own,
            int version) {}

    private final OwnVarieties ownVarieties;
    private final OwnRootstocks ownRootstocks;
    private final JdbcClient jdbc;
    private final List<Variety> varieties;
    private final List<Rootstock> rootstocks;
    private final List<Soil> soils;
    private final List<Limit> limits;

    ReferenceLists(OwnVarieties ownVarieties, OwnRootstocks ownRootstocks, JdbcClient jdbc) {
        this.ownVarieties = ownVarieties;
        this.ownRootstocks = ownRootstocks;
        this.jdbc = jdbc;
        this.varieties = ShippedData.lines("varieties.csv").stream()
                .map(r -> new Variety(
                        r.get("name"),
                        VineColour.valueOf(r.get("colour").toUpperCase(Locale.ROOT)),
                        r.get("vivc"),
                        r.get("parentage"),
                        r.get("bud_burst"),
                        r.get("ripening"),
                        r.get("note"),
                        r.get("source"),
                        r.get("how"),
                        false))
                .toList();
        this.rootstocks = ShippedData.lines("rootstocks.csv").stream()
                .map(r -> new Rootstock(
                        r.get("name"),
                        r.get("parentage"),
                        r.get("drought_0_to_5"),
                        r.get("lime_0_to_5"),
                        r.get("vigour"),
                        r.get("active_lime_low_percent"),
                        r.get("note"),
                        r.get("source"),
                        r.get("how"),
                        false))
                .toList();
        this.soils = ShippedData.lines("soils.csv").stream()
                .map(r -> new Soil(
                        r.get("soil"),
                        Double.parseDouble(r.get("available_low")),
                        Double.parseDouble(r.get("available_high")),
                        r.get("source")))
                .toList();
        this.limits = ShippedData.lines("store-limits.csv").stream()
                .map(r -> new Limit(
                        StoreKind.valueOf(r.get("kind")),
                        r.get("allowance"),
                        r.get("warn_at").isEmpty() ? null : new BigDecimal(r.get("warn_at")),
                        new BigDecimal(r.get("limit")),
                        r.get("unit"),
                        r.get("source"),
                        r.get("how"),
                        false,
                        -1))
                .toList();
    }

    /** All varieties by name: the published and the vineyard's own. */
    @Transactional(readOnly = true)
    public List<Variety> varieties() {
        List<Variety> all = new ArrayList<>(varieties);
        for (OwnVariety own : ownVarieties.findAllByWithdrawnAtIsNullOrderByName()) {
            all.add(new Variety(
                    own.name(), own.colour(), "", "", "", "", own.note() == null ? "" : own.note(), "", "", true));
        }
        all.sort(Comparator.comparing(Variety::name, String.CASE_INSENSITIVE_ORDER));
        return all;
    }

    /** All rootstocks by name: the published and the vineyard's own. */
    @Transactional(readOnly = true)
    public List<Rootstock> rootstocks() {
        List<Rootstock> all = new ArrayList<>(rootstocks);
        for (OwnRootstock own : ownRootstocks.findAllByWithdrawnAtIsNullOrderByName()) {
            all.add(new Rootstock(own.name(), "", "", "", "", "", own.note() == null ? "" : own.note(), "", "", true));
        }
        all.sort(Comparator.comparing(Rootstock::name, String.CASE_INSENSITIVE_ORDER));
        return all;
    }

    /** The colour of a variety by its name, if it is on the list. */
    @Transactional(readOnly = true)
    public Optional<VineColour> colour(String variety) {
        return varieties().stream()
                .filter(v -> v.name().equalsIgnoreCase(variety.strip()))
                .map(Variety::colour)
                .findFirst();
    }

    /** Soils a bed can have. */
    public List<Soil> soils() {
        return soils;
    }

    /** The middle of a soil's available water, m³/m³; of sandy loam where the soil is not on the list. */
    public double availableWater(@Nullable String soil) {
        Soil found = soils.stream()
                .filter(s -> s.name().equals(soil))
                .findFirst()
                .orElseGet(() -> soils.stream()
                        .filter(s -> s.name().equals("sandy loam"))
                        .findFirst()
                        .orElseThrow());
        return (found.low() + found.high()) / 2;
    }

    /** All limits, the vineyard's own in place of the published ones. */
    @Transactional(readOnly = true)
    public List<Limit> limits() {
        record Own(@Nullable BigDecimal warnAt, BigDecimal value, String source, int version) {}
        Map<String, Own> own = new TreeMap<>();
        jdbc.sql("select kind, allowance, warn_at, limit_value, source, version from store_limit")
                .query(row -> {
                    own.put(
                            row.getString("kind") + " " + row.getString("allowance"),
                            new Own(
                                    row.getBigDecimal("warn_at"),
                                    row.getBigDecimal("limit_value"),
                                    row.getString("source"),
                                    row.getInt("version")));
                });
        return limits.stream()
                .map(l -> {
                    Own mine = own.get(l.kind() + " " + l.allowance());
                    return mine == null
                            ? l
                            : new Limit(
                                    l.kind(),
                                    l.allowance(),
                                    mine.warnAt(),
                                    mine.value(),
                                    l.unit(),
                                    mine.source(),
                                    "",
                                    true,
                                    mine.version());
                })
                .toList();
    }

    /** The published limit, whatever the vineyard has set. */
    public Optional<Limit> published(StoreKind kind, String allowance) {
        return limits.stream()
                .filter(l -> l.kind() == kind && l.allowance().equals(allowance))
                .findFirst();
    }
}
