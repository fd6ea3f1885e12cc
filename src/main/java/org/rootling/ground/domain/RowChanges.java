package org.rootling.ground.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.rootling.ground.Block;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.ground.RowGuard;
import org.rootling.ground.Stretch;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.ground.calc.RowRoom;
import org.rootling.platform.Refused;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Changes to rows that leave every vine in its place: a row keeps its id and a place its number, or it is refused. */
@Service
@Transactional
public class RowChanges {
    private final Blocks blocks;
    private final RowStore store;
    private final BlockStore blockStore;
    private final GroundService ground;
    private final ObjectProvider<RowGuard> guards;

    RowChanges(
            Blocks blocks,
            RowStore store,
            BlockStore blockStore,
            GroundService ground,
            ObjectProvider<RowGuard> guards) {
        this.blocks = blocks;
        this.store = store;
        this.blockStore = blockStore;
        this.ground = ground;
        this.guards = guards;
    }

    /** The last row becomes row 1. Places are not touched, so vines may stand in them. */
    public void renumber(String code, int version) {
        BlockEntity block = ground.forChange(code, version);
        List<Row> rows = store.ofBlock(block.getId());
        int last = rows.isEmpty() ? 0 : rows.get(rows.size() - 1).number();
        blockStore.touch(block.getId(), version);
        store.renumber(block.getId(), last);
    }

    /** The row is counted from its other end; refused once something stands or stood in it. */
    public void reverse(String code, int version, int number) {
        BlockEntity block = ground.forChange(code, version);
        Row row = row(block, number);
        if (guards.stream().anyMatch(g -> !g.taken(row.id()).isEmpty())) {
            throw new Refused("ground.change.taken", row.name()).at("row");
        }
        List<Stretch> turned = new ArrayList<>();
        int place = 1;
        for (int i = row.stretches().size() - 1; i >= 0; i--) {
            Stretch s = row.stretches().get(i);
            turned.add(new Stretch(
                    turned.size() + 1,
                    place,
                    s.places(),
                    s.endX(),
                    s.endY(),
                    s.startX(),
                    s.startY(),
                    s.endGapM(),
                    s.startGapM(),
                    s.vineSpacingM()));
            place += s.places();
        }
        blockStore.touch(block.getId(), version);
        store.replaceStretches(row.id(), turned, row.places());
    }

    /** More places at the end of a row; those before keep their numbers. */
    public void lengthen(String code, int version, int number, int by) {
        BlockEntity block = ground.forChange(code, version);
        Row row = row(block, number);
        LayoutSpec spec = Objects.requireNonNull(block.spec());
        Stretch last = row.stretches().get(row.stretches().size() - 1);
        Point start = new Point(last.startX(), last.startY());
        Point end = new Point(last.endX(), last.endY());
        double free = RowRoom.beyond(ground.sheet(block.getId()).field(), spec, start, end);
        int room = (int) Math.floor(free / last.vineSpacingM() + 1e-9);
        if (by < 1 || by > room) {
            throw new Refused("ground.change.too-long", by, room).at("by");
        }
        Point further = last.along(last.lengthM() + by * last.vineSpacingM());
        List<Stretch> longer = new ArrayList<>(row.stretches());
        longer.set(
                longer.size() - 1,
                new Stretch(
                        last.segment(),
                        last.firstPlace(),
                        last.places() + by,
                        last.startX(),
                        last.startY(),
                        further.x(),
                        further.y(),
                        last.startGapM(),
                        last.endGapM(),
                        last.vineSpacingM()));
        store.replaceStretches(row.id(), longer, row.places() + by);
        block.hold(store.ofBlock(block.getId()));
        blocks.saveAndFlush(block);
    }

    /** Rows from this one on become a block of their own, numbered from 1; refused once something stands in them. */
    public Block split(String code, int version, int fromRow, String newCode, String newName) {
        BlockEntity block = ground.forChange(code, version);
        List<Row> rows = store.ofBlock(block.getId());
        List<Row> going = rows.stream().filter(r -> r.number() >= fromRow).toList();
        List<Row> staying = rows.stream().filter(r -> r.number() < fromRow).toList();
        if (going.isEmpty() || staying.isEmpty()) {
            throw new Refused("ground.change.split-row", rows.size()).at("row");
        }
        // Vines and their sums are kept by block: rows that something stands or stood in stay where they are.
        for (Row row : going) {
            if (guards.stream().anyMatch(g -> !g.taken(row.id()).isEmpty())) {
                throw new Refused("ground.change.split-taken", row.name()).at("row");
            }
        }
        GroundService.Sheet sheet = ground.sheet(block.getId());
        double bearing = sheet.block().rowBearingDeg();
        Point a = start(staying.get(staying.size() - 1));
        Point b = start(going.get(0));
        Field[] parts = RowRoom.part(sheet.field(), bearing, middle(a, b, bearing));
        if (parts == null || !separate(staying, going, middle(a, b, bearing), bearing)) {
            throw new Refused("ground.change.split-shape").at("row");
        }
        boolean right = across(b, bearing) > across(a, bearing);
        Field stays = parts[right ? 0 : 1];
        Field goes = parts[right ? 1 : 0];
        Block made = ground.add(
                newCode,
                newName,
                split(goes, sheet),
                sheet.exclusions().isEmpty()
                        ? newName
                        : sheet.exclusions().get(0).name());
        BlockEntity fresh = blocks.findById(made.id()).orElseThrow();
        fresh.followLike(block);
        fresh.hold(going);
        store.move(block.getId(), fresh.getId(), fromRow);
        block.bound(split(stays, sheet));
        block.hold(staying);
        blockStore.keepBoundary(block.getId(), split(stays, sheet));
        blocks.saveAndFlush(fresh);
        blocks.saveAndFlush(block);
        return fresh.shown();
    }

    private static Boundary split(Field field, GroundService.Sheet from) {
        return new Boundary(
                from.asMeasured(field), BoundarySource.SPLIT, from.note(), from.latitude(), from.longitude());
    }

    private static Point start(Row row) {
        return new Point(row.stretches().get(0).startX(), row.stretches().get(0).startY());
    }

    private static double across(Point p, double bearing) {
        return p.x() * Math.cos(Math.toRadians(bearing)) - p.y() * Math.sin(Math.toRadians(bearing));
    }

    private static Point middle(Point a, Point b, double bearing) {
        double half = (across(b, bearing) - across(a, bearing)) / 2;
        return a.plus(half * Math.cos(Math.toRadians(bearing)), -half * Math.sin(Math.toRadians(bearing)));
    }

    private static boolean separate(List<Row> staying, List<Row> going, Point line, double bearing) {
        double at = across(line, bearing);
        boolean left = across(start(staying.get(0)), bearing) < at;
        return staying.stream().allMatch(r -> (across(start(r), bearing) < at) == left)
                && going.stream().allMatch(r -> (across(start(r), bearing) > at) == left);
    }

    private Row row(BlockEntity block, int number) {
        return store.ofBlock(block.getId()).stream()
                .filter(r -> r.number() == number)
                .findFirst()
                .orElseThrow(() -> new Refused("ground.change.no-row", number).at("row"));
    }
}
