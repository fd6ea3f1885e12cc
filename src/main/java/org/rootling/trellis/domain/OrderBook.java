package org.rootling.trellis.domain;

import java.math.BigDecimal;
import java.sql.Array;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.rootling.trellis.calc.Item;
import org.rootling.trellis.calc.OrderLine;
import org.rootling.trellis.calc.RowLine;
import org.rootling.trellis.calc.TakeOff;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Order sheets: how things are sold, what was bought, what was needed when a sheet was last kept. */
@Service
@Transactional(readOnly = true)
public class OrderBook {
    /** One purchase as recorded. */
    public record Purchase(
            UUID id,
            Item item,
            @Nullable UUID blockId,
            BigDecimal quantity,
            LocalDate on,
            @Nullable BigDecimal paid,
            @Nullable String note) {}

    /** What the plan of one block needs of a thing. */
    public record Need(Block block, Item item) {}

    private final JdbcClient jdbc;
    private final TrellisPlans plans;
    private final Ground ground;
    private final Vineyards vineyards;

    OrderBook(JdbcClient jdbc, TrellisPlans plans, Ground ground, Vineyards vineyards) {
        this.jdbc = jdbc;
        this.plans = plans;
        this.ground = ground;
        this.vineyards = vineyards;
    }

    /**
     * The sheet for some blocks.
     *
     * @param codes codes of blocks, of which those without a plan or rows add nothing; empty means those of the last kept
     *     sheet, or else every planned block
     * @param delivery price of delivery; null means the last kept one, or else none
     * @param currency of all prices; null means the last kept one, or else none
     */
    public OrderSheet sheet(Collection<String> codes, @Nullable BigDecimal delivery, @Nullable String currency) {
        Optional<StoredSheet> kept = lastKept();
        Map<UUID, TrellisPlan> byBlock = plans.byBlock();
        List<Block> all = ground.blocks();
        List<Block> planned = all.stream()
                .filter(b -> byBlock.containsKey(b.id()) && b.rows() > 0)
                .toList();
        List<Block> blocks = choose(all, planned, codes, kept);
        Map<UUID, List<RowLine>> rowsOf =
                plans.lines(blocks.stream().map(Block::id).toList());
        TakeOff takeOff = new TakeOff();
        double area = 0;
        for (Block block : blocks) {
            TrellisPlan plan = byBlock.get(block.id());
            List<RowLine> rows = rowsOf.get(block.id());
            if (plan != null && rows != null) {
                takeOff.add(plan.spec(), rows);
            }
            area += block.areaM2();
        }
        Set<UUID> ids = new LinkedHashSet<>(blocks.stream().map(Block::id).toList());
        Map<String, BigDecimal> bought = bought(ids);
        Map<String, BigDecimal> before = kept.filter(k -> k.kept().blockIds().equals(ids))
                .map(k -> needed(k.id()))
                .orElse(Map.of());
        Map<String, OrderLine.Terms> terms = terms();
        List<OrderSheet.Line> lines = new ArrayList<>();
        for (Item item : takeOff.items()) {
            OrderLine line = OrderLine.of(
                    item,
                    terms.getOrDefault(item.key(), OrderLine.Terms.usual(item)),
                    bought.getOrDefault(item.key(), BigDecimal.ZERO));
            bought.remove(item.key());
            // A thing that the kept sheet did not have was not needed then.
            BigDecimal then = before.isEmpty() ? null : before.getOrDefault(item.key(), BigDecimal.ZERO);
            lines.add(new OrderSheet.Line(line, then));
        }
        List<OrderSheet.Extra> extras = new ArrayList<>();
        bought.forEach(
                (key, quantity) -> Item.ofKey(key).ifPresent(item -> extras.add(new OrderSheet.Extra(item, quantity))));
        BigDecimal price =
                delivery != null ? delivery : kept.map(k -> k.kept().delivery()).orElse(BigDecimal.ZERO);
        return new OrderSheet(
                planned,
                blocks,
                lines,
                extras,
                takeOff.vines(),
                area,
                price,
                currency != null ? currency : kept.map(k -> k.kept().currency()).orElse(null),
                kept.map(StoredSheet::kept).orElse(null));
    }

    private static List<Block> choose(
            List<Block> all, List<Block> planned, Collection<String> codes, Optional<StoredSheet> kept) {
        if (!codes.isEmpty()) {
            if (!all.stream().map(Block::code).toList().containsAll(codes)) {
                throw new NotFound("block");
            }
            return planned.stream().filter(b -> codes.contains(b.code())).toList();
        }
        Set<UUID> ids = kept.map(k -> k.kept().blockIds()).orElse(Set.of());
        List<Block> again = planned.stream().filter(b -> ids.contains(b.id())).toList();
        return again.isEmpty() ? planned : again;
    }

    /** How a thing is sold, as set or as usual. */
    public OrderLine.Terms terms(Item item) {
        return terms().getOrDefault(item.key(), OrderLine.Terms.usual(item));
    }

    /** Sets how a thing is sold. */
    @Transactional
    public void sell(Item item, OrderLine.Terms terms) {
        jdbc.sql("""
                        insert into trellis_terms (id, item_key, pack_size, pack_price, spare_percent)
                        values (:id, :key, :size, :price, :spare)
                        on conflict (vineyard_id, item_key) do update set pack_size = excluded.pack_size,
                          pack_price = excluded.pack_price, spare_percent = excluded.spare_percent""")
                .param("id", Ids.next())
                .param("key", item.key())
                .param("size", terms.packSize())
                .param("price", terms.packPrice())
                .param("spare", terms.sparePercent())
                .update();
    }

    /** Records that something was bought. */
    @Transactional
    public void buy(
            Item item,
            @Nullable String blockCode,
            BigDecimal quantity,
            LocalDate on,
            @Nullable BigDecimal paid,
            @Nullable String note) {
        if (on.isAfter(vineyards.today())) {
            throw new Refused("trellis.order.future").at("on");
        }
        UUID block = blockCode == null
                ? null
                : ground.blockByCode(blockCode)
                        .map(Block::id)
                        .orElseThrow(() -> new Refused("trellis.order.no-block").at("block"));
        jdbc.sql("""
                        insert into trellis_purchase (id, item_key, block_id, quantity, bought_on, paid, note)
                        values (:id, :key, :block, :quantity, :on, :paid, :note)""")
                .param("id", Ids.next())
                .param("key", item.key())
                .param("block", block)
                .param("quantity", quantity)
                .param("on", on)
                .param("paid", paid)
                .param("note", note)
                .update();
    }

    /** Takes a purchase back; it stays in the records as withdrawn. */
    @Transactional
    public void withdraw(UUID purchaseId) {
        int changed = jdbc.sql(
                        "update trellis_purchase set withdrawn_at = now() where id = :id and withdrawn_at is null")
                .param("id", purchaseId)
                .update();
        if (changed == 0) {
            throw new NotFound("purchase");
        }
    }

    /** What each block's plan needs of a thing, without spares; blocks that need none of it are left out. */
    public List<Need> needs(Item thing) {
        Map<UUID, TrellisPlan> byBlock = plans.byBlock();
        List<Block> planned = ground.blocks().stream()
                .filter(b -> byBlock.containsKey(b.id()) && b.rows() > 0)
                .toList();
        Map<UUID, List<RowLine>> rowsOf =
                plans.lines(planned.stream().map(Block::id).toList());
        List<Need> needs = new ArrayList<>();
        for (Block block : planned) {
            TrellisPlan plan = byBlock.get(block.id());
            List<RowLine> rows = rowsOf.get(block.id());
            if (plan != null && rows != null) {
                for (Item item : new TakeOff().add(plan.spec(), rows).items()) {
                    if (item.key().equals(thing.key())) {
                        needs.add(new Need(block, item));
                    }
                }
            }
        }
        return needs;
    }

    /** Purchases of one thing that stand, newest first. */
    public List<Purchase> purchases(Item item) {
        return jdbc.sql("""
                        select id, block_id, quantity, bought_on, paid, note from trellis_purchase
                        where item_key = :key and withdrawn_at is null order by bought_on desc, id desc limit 200""")
                .param("key", item.key())
                .query((row, n) -> new Purchase(
                        row.getObject("id", UUID.class),
                        item,
                        row.getObject("block_id", UUID.class),
                        row.getBigDecimal("quantity"),
                        row.getObject("bought_on", LocalDate.class),
                        row.getBigDecimal("paid"),
                        row.getString("note")))
                .list();
    }

    /** Keeps what the sheet needs now, to compare with later. */
    @Transactional
    public void keep(Collection<String> codes, BigDecimal delivery, @Nullable String currency) {
        OrderSheet sheet = sheet(codes, delivery, currency);
        if (sheet.lines().isEmpty()) {
            throw new Refused("trellis.order.nothing");
        }
        UUID id = Ids.next();
        jdbc.sql("""
                        insert into trellis_sheet (id, kept_on, block_ids, delivery, currency)
                        values (:id, :on, cast(:blocks as uuid[]), :delivery, :currency)""")
                .param("id", id)
                .param("on", vineyards.today())
                .param(
                        "blocks",
                        "{"
                                + String.join(
                                        ",",
                                        sheet.blocks().stream()
                                                .map(b -> b.id().toString())
                                                .toList())
                                + "}")
                .param("delivery", delivery)
                .param("currency", sheet.currency())
                .update();
        for (OrderSheet.Line line : sheet.lines()) {
            jdbc.sql("""
                            insert into trellis_sheet_line (id, sheet_id, item_key, needed)
                            values (:id, :sheet, :key, :needed)""")
                    .param("id", Ids.next())
                    .param("sheet", id)
                    .param("key", line.order().item().key())
                    .param("needed", line.order().needed())
                    .update();
        }
    }

    private record StoredSheet(UUID id, OrderSheet.Kept kept) {}

    private Optional<StoredSheet> lastKept() {
        return jdbc.sql("""
                        select id, kept_on, kept_by, block_ids, delivery, currency from trellis_sheet
                        order by kept_at desc, id desc limit 1""")
                .query((row, n) -> {
                    Array blocks = row.getArray("block_ids");
                    return new StoredSheet(
                            row.getObject("id", UUID.class),
                            new OrderSheet.Kept(
                                    row.getObject("kept_on", LocalDate.class),
                                    row.getObject("kept_by", UUID.class),
                                    new LinkedHashSet<>(Arrays.asList((UUID[]) blocks.getArray())),
                                    row.getBigDecimal("delivery"),
                                    row.getString("currency")));
                })
                .optional();
    }

    private Map<String, BigDecimal> needed(UUID sheetId) {
        Map<String, BigDecimal> all = new HashMap<>();
        jdbc.sql("select item_key, needed from trellis_sheet_line where sheet_id = :id")
                .param("id", sheetId)
                .query((row, n) -> all.put(row.getString("item_key"), row.getBigDecimal("needed")))
                .list();
        return all;
    }

    /** Bought for these blocks or for the vineyard as a whole. */
    private Map<String, BigDecimal> bought(Set<UUID> blocks) {
        Map<String, BigDecimal> all = new LinkedHashMap<>();
        jdbc.sql("""
                        select item_key, block_id, sum(quantity) as quantity from trellis_purchase
                        where withdrawn_at is null group by item_key, block_id order by item_key""")
                .query((row, n) -> {
                    UUID block = row.getObject("block_id", UUID.class);
                    if (block == null || blocks.contains(block)) {
                        all.merge(row.getString("item_key"), row.getBigDecimal("quantity"), BigDecimal::add);
                    }
                    return n;
                })
                .list();
        return all;
    }

    Map<String, OrderLine.Terms> terms() {
        Map<String, OrderLine.Terms> all = new HashMap<>();
        jdbc.sql("select item_key, pack_size, pack_price, spare_percent from trellis_terms")
                .query((row, n) -> all.put(
                        row.getString("item_key"),
                        new OrderLine.Terms(
                                row.getBigDecimal("pack_size"),
                                row.getBigDecimal("pack_price"),
                                row.getBigDecimal("spare_percent"))))
                .list();
        return all;
    }
}
