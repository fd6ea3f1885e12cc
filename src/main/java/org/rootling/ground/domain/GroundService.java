package org.rootling.ground.domain;

import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.stream.Collectors;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Ground;
import org.rootling.ground.PlaceRun;
import org.rootling.ground.Point;
import org.rootling.ground.ResolvedRun;
import org.rootling.ground.Row;
import org.rootling.ground.RowGuard;
import org.rootling.ground.Stretch;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.Layout;
import org.rootling.ground.calc.LayoutRow;
import org.rootling.ground.calc.LayoutSolver;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.ground.calc.Slope;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Keeps blocks, their boundaries and their rows. */
@Service
@Transactional
public class GroundService implements Ground {

    /**
     * A block with everything its page shows.
     *
     * @param field in metres along the ground; rows and all that is reckoned lie in it
     * @param measured corners as they were measured: level, as on a map, or along the ground
     * @param slope how the ground falls
     * @param level the corners were measured level
     */
    public record Sheet(
            Block block,
            Field field,
            Field measured,
            Slope slope,
            boolean level,
            BoundarySource source,
            @Nullable String note,
            @Nullable Double latitude,
            @Nullable Double longitude,
            List<Exclusion> exclusions,
            @Nullable LayoutSpec spec) {

        /** Square metres along the ground. */
        public double groundAreaM2() {
            return field.areaM2();
        }

        /** Compass bearing of the rows, degrees. */
        public double rowBearingDeg() {
            return slope.bearingOnMap(block.rowBearingDeg());
        }

        /** A part of the field with its corners as they would have been measured. */
        Field asMeasured(Field part) {
            return level ? slope.onMap(part) : part;
        }
    }

    private final Blocks blocks;
    private final RowStore store;
    private final BlockStore blockStore;
    private final ObjectProvider<RowGuard> guards;
    private final Vineyards vineyards;

    GroundService(
            Blocks blocks,
            RowStore store,
            BlockStore blockStore,
            ObjectProvider<RowGuard> guards,
            Vineyards vineyards) {
        this.blocks = blocks;
        this.store = store;
        this.blockStore = blockStore;
        this.guards = guards;
        this.vineyards = vineyards;
    }

    @Override
    @Transactional(readOnly = true)
    public List<Block> blocks() {
        return blockStore.blocks();
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Block> block(UUID id) {
        return blocks.findById(id).map(BlockEntity::shown);
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Block> blockByCode(String code) {
        return blocks.findByCodeAndWithdrawnAtIsNull(code.strip().toUpperCase(Locale.ROOT))
                .map(BlockEntity::shown);
    }

    @Override
    @Transactional(readOnly = true)
    public List<Row> rows(UUID blockId) {
        return store.ofBlock(blockId);
    }

    @Override
    @Transactional(readOnly = true)
    public Map<UUID, List<Row>> rowsOf(Collection<UUID> blockIds) {
        return store.ofBlocks(blockIds).stream().collect(Collectors.groupingBy(Row::blockId));
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Row> row(UUID rowId) {
        return store.byIds(List.of(rowId)).stream().findFirst();
    }

    @Override
    @Transactional(readOnly = true)
    public Optional<Row> row(String blockCode, int number) {
        return store.byNumber(blockCode.strip().toUpperCase(Locale.ROOT), number).stream()
                .findFirst();
    }

    @Override
    @Transactional(readOnly = true)
    public List<Row> neighbours(Row row) {
        return store.numbered(row.blockId(), List.of(row.number() - 1, row.number() + 1));
    }

    @Override
    public Row hold(UUID rowId) {
        Row row = row(rowId).orElseThrow(() -> new NotFound("row"));
        UUID held;
        do {
            held = row.blockId();
            blockStore.hold(held);
            row = row(rowId).orElseThrow(() -> new NotFound("row"));
            // the block may have been split while its lock was waited for
        } while (!row.blockId().equals(held));
        if (!store.inUse(rowId)) {
            throw new Refused("ground.row.replaced", row.name());
        }
        return row;
    }

    @Override
    @Transactional(readOnly = true)
    public List<Row> rowsById(Collection<UUID> ids) {
        return store.byIds(ids);
    }

    @Override
    @Transactional(readOnly = true)
    public Map<UUID, Double> rowMetres(Collection<UUID> blockIds) {
        return blockStore.metres(blockIds);
    }

    @Override
    @Transactional(readOnly = true)
    public ResolvedRun resolve(PlaceRun run) {
        if (blockByCode(run.blockCode()).isEmpty()) {
            throw new Refused("ground.run.no-block", run.blockCode());
        }
        Row row = row(run.blockCode(), run.row())
                .orElseThrow(() -> new Refused("ground.run.no-row", run.blockCode(), run.row()));
        return new ResolvedRun(row, run.within(row.places()).places());
    }

    /** Everything about a block in use. */
    @Transactional(readOnly = true)
    public Sheet sheet(String code) {
        return sheet(find(code));
    }

    /** Everything about a block, also one withdrawn. */
    @Transactional(readOnly = true)
    public Sheet sheet(UUID id) {
        return sheet(blocks.findById(id).orElseThrow(() -> new NotFound("block")));
    }

    /** What the plan of a block is drawn on, also of one withdrawn. */
    @Transactional(readOnly = true)
    BlockStore.Outline outline(UUID id) {
        return blockStore.outline(id).orElseThrow(() -> new NotFound("block"));
    }

    private Sheet sheet(BlockEntity block) {
        List<Exclusion> exclusions = blockStore.exclusions(block.getId());
        Field measured =
                block.measured(exclusions.stream().map(Exclusion::corners).toList());
        return new Sheet(
                block.shown(),
                block.slope().field(measured, block.measuredLevel()),
                measured,
                block.slope(),
                block.measuredLevel(),
                block.boundarySource(),
                block.boundaryNote(),
                block.originLatitude(),
                block.originLongitude(),
                exclusions,
                block.spec());
    }

    /** All boundaries the block ever had, the present one first. */
    @Transactional(readOnly = true)
    public List<FormerBoundary> boundaries(UUID blockId) {
        return blockStore.boundaries(blockId);
    }

    /** A new block; exclusions that came with the boundary are kept under the given name. */
    public Block add(String code, String name, Boundary boundary, String exclusionName) {
        String upper = code.strip().toUpperCase(Locale.ROOT);
        if (!upper.matches("[A-Z0-9][A-Z0-9._-]{0,11}")) {
            throw new Refused("ground.block.code-form").at("code");
        }
        if (blocks.findByCodeAndWithdrawnAtIsNull(upper).isPresent()) {
            throw new Refused("ground.block.code-taken", upper).at("code");
        }
        BlockEntity block = blocks.saveAndFlush(new BlockEntity(upper, name.strip(), boundary));
        blockStore.keepBoundary(block.getId(), boundary);
        for (List<Point> patch : boundary.field().exclusions()) {
            blockStore.addExclusion(block.getId(), exclusionName, patch);
        }
        return block.shown();
    }

    /** A boundary measured anew. Rows stay where they are; a page shows when they no longer fit. */
    public void bound(String code, int version, Boundary boundary) {
        BlockEntity block = forChange(code, version);
        block.bound(boundary);
        blockStore.keepBoundary(block.getId(), boundary);
        blocks.saveAndFlush(block);
    }

    /**
     * Another slope, or other news on how the corners were measured. Lengths along the ground change with it, so rows that
     * were laid out are taken out of use; refused once something stands in them.
     */
    public void fall(String code, int version, Slope slope, boolean level) {
        BlockEntity block = forNewRows(code, version);
        store.withdrawAll(block.getId(), vineyards.now());
        block.fall(slope, level);
        block.hold(List.of());
        blocks.saveAndFlush(block);
    }

    /** A name is only a name; the code stays. */
    public void rename(String code, int version, String name) {
        BlockEntity block = forChange(code, version);
        block.rename(name.strip());
        blocks.saveAndFlush(block);
    }

    /** Keeps a patch free of rows. */
    public void exclude(String code, String name, List<Point> corners) {
        BlockEntity block = find(code);
        Sheet sheet = sheet(block);
        List<List<Point>> all = new ArrayList<>(sheet.measured().exclusions());
        all.add(corners);
        Field checked = Field.of(sheet.measured().boundary(), all);
        blockStore.addExclusion(
                block.getId(),
                name.strip(),
                checked.exclusions().get(checked.exclusions().size() - 1));
    }

    /** The patch is no longer kept free. */
    public void include(String code, UUID exclusionId) {
        if (blockStore.withdrawExclusion(find(code).getId(), exclusionId, vineyards.now()) == 0) {
            throw new NotFound("exclusion");
        }
    }

    /** The rows of an accepted layout take the place of those before; refused once vines stand in them. */
    public Layout accept(String code, int version, LayoutSpec spec) {
        BlockEntity block = forNewRows(code, version);
        Layout layout = LayoutSolver.solve(sheet(block).field(), spec);
        if (layout.rows().isEmpty()) {
            throw new Refused("ground.layout.warn.none");
        }
        store.withdrawAll(block.getId(), vineyards.now());
        List<Row> rows = rows(block, layout);
        store.add(rows);
        block.follow(layout, rows);
        blocks.saveAndFlush(block);
        return layout;
    }

    /** Takes a block without vines out of use. */
    public void withdraw(String code, int version) {
        BlockEntity block = forNewRows(code, version);
        store.withdrawAll(block.getId(), vineyards.now());
        block.withdraw(vineyards.now());
        blocks.saveAndFlush(block);
    }

    /** Why the rows may not be laid out anew, or empty. */
    @Transactional(readOnly = true)
    public Optional<Refused> guarded(UUID blockId) {
        return guards.orderedStream()
                .flatMap(g -> g.mayChange(blockId).stream())
                .findFirst();
    }

    private BlockEntity forNewRows(String code, int version) {
        BlockEntity block = forChange(code, version);
        guarded(block.getId()).ifPresent(reason -> {
            throw reason;
        });
        return block;
    }

    /**
     * The block, if nobody changed it since that version. It is locked, so that nothing comes to stand in its rows after
     * the guards were asked ({@link #hold}).
     */
    BlockEntity forChange(String code, int version) {
        BlockEntity block = blocks.findForChangeByCodeAndWithdrawnAtIsNull(
                        code.strip().toUpperCase(Locale.ROOT))
                .orElseThrow(() -> new NotFound("block"));
        block.requireVersion(version);
        return block;
    }

    private static List<Row> rows(BlockEntity block, Layout layout) {
        List<Row> rows = new ArrayList<>();
        List<Stretch> stretches = new ArrayList<>();
        int places = 0;
        double gap = layout.spec().endGapM();
        List<LayoutRow> all = layout.rows();
        for (int i = 0; i < all.size(); i++) {
            LayoutRow r = all.get(i);
            stretches.add(new Stretch(
                    r.segment(),
                    places + 1,
                    r.vines(),
                    r.start().x(),
                    r.start().y(),
                    r.end().x(),
                    r.end().y(),
                    gap,
                    gap,
                    layout.spec().vineSpacingM()));
            places += r.vines();
            if (i + 1 == all.size() || all.get(i + 1).number() != r.number()) {
                rows.add(new Row(Ids.next(), block.getId(), block.code(), r.number(), places, stretches));
                stretches = new ArrayList<>();
                places = 0;
            }
        }
        return rows;
    }

    private BlockEntity find(String code) {
        return blocks.findByCodeAndWithdrawnAtIsNull(code.strip().toUpperCase(Locale.ROOT))
                .orElseThrow(() -> new NotFound("block"));
    }
}
