package org.rootling.ground.domain;

import java.awt.geom.Line2D;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.List;
import java.util.UUID;
import org.locationtech.jts.geom.Coordinate;
import org.locationtech.jts.geom.GeometryFactory;
import org.locationtech.jts.geom.LineString;
import org.rootling.ground.Block;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.ground.RowDesk;
import org.rootling.ground.Stretch;
import org.rootling.ground.calc.Alignment;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.Layout;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.people.Vineyards;
import org.rootling.platform.Ids;
import org.rootling.platform.Measure;
import org.rootling.platform.Refused;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Rows that were surveyed instead of laid out. What a layout would have asked for is read off them. */
@Component
@Transactional
class SurveyedRows implements RowDesk {

    /** End posts may stand this far outside of a boundary, metres: what two surveys differ by (common practice, no source). */
    private static final double TOLERANCE_M = 0.5;

    private static final double SHORTEST_M = 0.5;
    private static final int MOST_PLACES = 10_000;
    private static final GeometryFactory SHAPES = new GeometryFactory();

    private final GroundService ground;
    private final Blocks blocks;
    private final RowStore store;
    private final Vineyards vineyards;

    SurveyedRows(GroundService ground, Blocks blocks, RowStore store, Vineyards vineyards) {
        this.ground = ground;
        this.blocks = blocks;
        this.store = store;
        this.vineyards = vineyards;
    }

    @Override
    public void survey(String blockCode, List<SurveyedRow> given) {
        Block known = ground.blockByCode(blockCode)
                .orElseThrow(() -> new Refused("ground.run.no-block", blockCode).at("block"));
        BlockEntity block = ground.forChange(known.code(), known.version());
        ground.guarded(block.getId()).ifPresent(reason -> {
            throw reason;
        });
        GroundService.Sheet sheet = ground.sheet(known.code());
        List<Row> rows = new ArrayList<>();
        for (SurveyedRow one : inOrder(given)) {
            rows.add(row(known.id(), known.code(), one, sheet));
        }
        requireApart(rows);
        store.withdrawAll(block.getId(), vineyards.now());
        store.add(rows);
        int places = rows.stream().mapToInt(Row::places).sum();
        Layout layout = new Layout(
                readOff(rows, sheet.field()),
                List.of(),
                rows.size(),
                places,
                sheet.field().areaM2(),
                null,
                List.of());
        block.follow(layout, rows);
        blocks.saveAndFlush(block);
    }

    private static List<SurveyedRow> inOrder(List<SurveyedRow> given) {
        List<SurveyedRow> ordered = given.stream()
                .sorted(Comparator.comparingInt(SurveyedRow::number))
                .toList();
        for (int i = 0; i < ordered.size(); i++) {
            if (ordered.get(i).number() != i + 1) {
                throw new Refused("ground.survey.numbers", i + 1).at("row");
            }
        }
        return ordered;
    }

    private static Row row(UUID blockId, String code, SurveyedRow one, GroundService.Sheet sheet) {
        if (one.places() < 1 || one.places() > MOST_PLACES) {
            throw new Refused("ground.survey.places", MOST_PLACES).at("places");
        }
        Point start = sheet.level() ? sheet.slope().onGround(one.start()) : one.start();
        Point end = sheet.level() ? sheet.slope().onGround(one.end()) : one.end();
        double length = start.distance(end);
        if (!(length >= SHORTEST_M)) {
            throw new Refused("ground.survey.short", one.number()).at("row");
        }
        LineString line = line(start, end);
        if (!sheet.field().outline().buffer(TOLERANCE_M).covers(line)) {
            throw new Refused("ground.survey.outside", one.number()).at("row");
        }
        if (sheet.field().exclusions().stream()
                .anyMatch(patch -> Field.polygon(patch).intersects(line))) {
            throw new Refused("ground.survey.excluded", one.number()).at("row");
        }
        Double asked = one.vineSpacingM();
        double spacing = asked == null ? length / one.places() : asked;
        double gap = (length - (one.places() - 1) * spacing) / 2;
        if (!(spacing >= LayoutSpec.MIN_VINE && spacing <= LayoutSpec.MAX_VINE) || gap < -1e-6) {
            throw new Refused(
                            "ground.survey.spacing",
                            one.number(),
                            one.places(),
                            Measure.METRE.amount(LayoutSpec.MIN_VINE))
                    .at(asked == null ? "places" : "spacing");
        }
        double ends = Math.max(0, gap);
        Stretch stretch = new Stretch(1, 1, one.places(), start.x(), start.y(), end.x(), end.y(), ends, ends, spacing);
        return new Row(Ids.next(), blockId, code, one.number(), one.places(), List.of(stretch));
    }

    private static LineString line(Point start, Point end) {
        return SHAPES.createLineString(
                new Coordinate[] {new Coordinate(start.x(), start.y()), new Coordinate(end.x(), end.y())});
    }

    private static void requireApart(List<Row> rows) {
        for (int i = 0; i < rows.size(); i++) {
            Stretch a = rows.get(i).stretches().get(0);
            for (int j = i + 1; j < rows.size(); j++) {
                Stretch b = rows.get(j).stretches().get(0);
                if (Line2D.linesIntersect(
                        a.startX(), a.startY(), a.endX(), a.endY(), b.startX(), b.startY(), b.endX(), b.endY())) {
                    throw new Refused("ground.survey.meet", i + 1, j + 1).at("row");
                }
            }
        }
    }

    /** Bearing of the first row; middle spacings; the run that is left to the boundary. */
    private static LayoutSpec readOff(List<Row> rows, Field field) {
        Stretch first = rows.get(0).stretches().get(0);
        double bearing = Math.toDegrees(Math.atan2(first.endX() - first.startX(), first.endY() - first.startY()));
        double halfCircle = ((bearing % 180) + 180) % 180;
        double east = Math.cos(Math.toRadians(halfCircle));
        double north = -Math.sin(Math.toRadians(halfCircle));
        List<Double> across = rows.stream()
                .map(r -> r.stretches().get(0))
                .map(s -> (s.startX() + s.endX()) / 2 * east + (s.startY() + s.endY()) / 2 * north)
                .sorted()
                .toList();
        List<Double> between = new ArrayList<>();
        for (int i = 1; i < across.size(); i++) {
            between.add(across.get(i) - across.get(i - 1));
        }
        double rowSpacing = between.isEmpty() ? LayoutSpec.MIN_ROW : middle(between);
        double vineSpacing = middle(
                rows.stream().map(r -> r.stretches().get(0).vineSpacingM()).toList());
        double gap =
                middle(rows.stream().map(r -> r.stretches().get(0).startGapM()).toList());
        double free = rows.stream()
                .map(r -> r.stretches().get(0))
                .mapToDouble(s -> field.outline()
                        .getExteriorRing()
                        .distance(line(new Point(s.startX(), s.startY()), new Point(s.endX(), s.endY()))))
                .min()
                .orElse(0);
        double margin = Math.min(LayoutSpec.MAX_MARGIN, free);
        int fewest = rows.stream().mapToInt(Row::places).min().orElse(1);
        return new LayoutSpec(
                Math.max(LayoutSpec.MIN_ROW, Math.min(LayoutSpec.MAX_ROW, rowSpacing)),
                vineSpacing,
                margin,
                margin,
                Math.min(LayoutSpec.MAX_VINE, gap),
                halfCircle < 180 ? halfCircle : 0,
                null,
                Math.min(3, fewest),
                Alignment.ROW);
    }

    private static double middle(List<Double> values) {
        List<Double> sorted = values.stream().sorted().toList();
        return sorted.get(sorted.size() / 2);
    }
}
