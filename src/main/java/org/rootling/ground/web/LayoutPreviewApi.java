package org.rootling.ground.web;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.media.Schema;
import io.swagger.v3.oas.annotations.responses.ApiResponse;
import io.swagger.v3.oas.annotations.tags.Tag;
import jakarta.validation.Valid;
import jakarta.validation.constraints.NotNull;
import jakarta.validation.constraints.Size;
import java.util.ArrayList;
import java.util.List;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Point;
import org.rootling.ground.calc.Alignment;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.Layout;
import org.rootling.ground.calc.LayoutRow;
import org.rootling.ground.calc.LayoutSolver;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.ground.calc.LocalPlane;
import org.rootling.ground.calc.Slope;
import org.rootling.ground.domain.GeoJsonShape;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Refused;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;
import tools.jackson.databind.JsonNode;

/** Fits rows to a field without storing anything. */
@RestController
@RequestMapping("/api/v1")
@Tag(name = "Ground")
class LayoutPreviewApi {

    /** The field and what its rows should be like. */
    @Schema(name = "LayoutPreviewRequest")
    record Request(
            @NotNull
            @Schema(
                    implementation = Object.class,
                    description = "GeoJSON Polygon (RFC 7946), at most " + Field.MOST_CORNERS
                            + " corners; holes count as exclusions")
            JsonNode boundary,

            @Schema(
                    description = "metres (x east, y north) or wgs84 (longitude, latitude); default metres",
                    allowableValues = {"metres", "wgs84"})
            @Nullable
            String coordinates,

            @Schema(implementation = Object[].class, description = "GeoJSON Polygons that nothing may touch")
            @Size(max = 500)
            @Nullable
            List<JsonNode> exclusions,

            @NotNull @Schema(description = "Row line to row line, metres, 0.5 to 20")
            Double rowSpacingM,

            @NotNull @Schema(description = "Vine to vine, metres, 0.2 to 20")
            Double vineSpacingM,

            @Schema(description = "Free run along the row beyond each end post, to the boundary, metres; default 0")
            @Nullable
            Double headlandM,

            @Schema(description = "No part of a row is nearer to boundary or exclusions, metres; default 0") @Nullable
            Double sideMarginM,

            @Schema(description = "End post to first vine, metres; default half the vine spacing") @Nullable
            Double endGapM,

            @Schema(description = "Clockwise from north, 0 <= b < 180; null finds the best") @Nullable
            Double rowBearingDeg,

            @Schema(
                    description =
                            "First row line from the outermost line that the side margin allows, metres; null finds the best")
            @Nullable
            Double firstRowOffsetM,

            @Schema(description = "Stretches for fewer vines stay empty; default 3") @Nullable
            Integer minVinesPerRow,

            @Schema(
                    description = "row: each row counts from its own start; square: vines in line across the block",
                    allowableValues = {"row", "square"})
            @Nullable
            String alignment,

            @Schema(
                    description =
                            "Fall of the ground in percent of the map's length, 0 to 100; default 0. Coordinates are level, all"
                                    + " lengths and areas along the ground")
            @Nullable
            Double slopePercent,

            @Schema(description = "Direction of the fall, clockwise from north, degrees; default 0") @Nullable
            Double downhillDeg) {}

    /** One stretch of a row, end post to end post; coordinates as in the request. */
    @Schema(name = "LayoutPreviewRow")
    record RowJson(int number, double[] start, double[] end, double lengthM, int vines, int segment) {}

    /** The rows. */
    @Schema(name = "LayoutPreview")
    record Response(
            double rowBearingDeg,
            double firstRowOffsetM,
            List<RowJson> rows,
            int rowCount,
            int vines,
            double areaM2,
            double vinesPerHectare,
            double grossVinesPerHectare,

            @Schema(description = "With no bearing given: no layout of this kind at any bearing holds more; else null")
            @Nullable
            Integer mostVines,

            List<String> warnings) {}

    private final WarningText warnings;

    LayoutPreviewApi(WarningText warnings) {
        this.warnings = warnings;
    }

    @PostMapping("/layout-previews")
    @Needs(Role.READER)
    @Operation(
            summary = "Fit rows to a field",
            description = "Nothing is stored. Deterministic: the same request gives the same rows.")
    @ApiResponse(responseCode = "200", description = "The rows, numbered across the field, segments along the row")
    @ApiResponse(responseCode = "400", description = "Not readable, or a value missing (RFC 9457 problem)")
    @ApiResponse(
            responseCode = "422",
            description = "A field or a spacing that cannot be; says what and where (RFC 9457 problem)")
    Response preview(@Valid @RequestBody Request request) {
        LocalPlane plane = plane(request);
        Slope slope = new Slope(
                Objects.requireNonNullElse(request.slopePercent(), 0.0),
                Objects.requireNonNullElse(request.downhillDeg(), 0.0));
        Field field = slope.onGround(field(request, plane));
        Layout layout = LayoutSolver.solve(field, spec(request, slope));
        List<RowJson> rows = new ArrayList<>();
        for (LayoutRow r : layout.rows()) {
            rows.add(new RowJson(
                    r.number(),
                    pair(slope.onMap(r.start()), plane),
                    pair(slope.onMap(r.end()), plane),
                    round(r.lengthM(), 1e9),
                    r.vines(),
                    r.segment()));
        }
        return new Response(
                slope.bearingOnMap(layout.rowBearingDeg()),
                round(layout.firstRowOffsetM(), 1e9),
                rows,
                layout.rowCount(),
                layout.vines(),
                round(layout.areaM2(), 1e6),
                round(layout.vinesPerHectare(), 10),
                round(layout.spec().grossVinesPerHectare(), 10),
                layout.mostVines(),
                layout.warnings().stream().map(this::text).toList());
    }

    private @Nullable LocalPlane plane(Request request) {
        String kind = Objects.requireNonNullElse(request.coordinates(), "metres");
        if (kind.equals("metres")) {
            return null;
        }
        if (!kind.equals("wgs84")) {
            throw new Refused("ground.preview.coordinates").at("coordinates");
        }
        List<LocalPlane.Spot> spots =
                spots(GeoJsonShape.of(request.boundary(), "boundary").outer());
        LocalPlane.check(spots, "boundary");
        if (spots.isEmpty()) {
            throw new Refused("ground.polygon.too-few-corners", 0).at("boundary");
        }
        return LocalPlane.about(spots);
    }

    private static Field field(Request request, @Nullable LocalPlane plane) {
        GeoJsonShape outline = GeoJsonShape.of(request.boundary(), "boundary");
        List<List<Point>> patches = new ArrayList<>();
        outline.holes().forEach(h -> patches.add(points(h, plane, "boundary")));
        for (JsonNode patch : Objects.requireNonNullElse(request.exclusions(), List.<JsonNode>of())) {
            patches.add(points(GeoJsonShape.of(patch, "exclusions").outer(), plane, "exclusions"));
        }
        return Field.of(points(outline.outer(), plane, "boundary"), patches);
    }

    private static List<Point> points(List<double[]> ring, @Nullable LocalPlane plane, String field) {
        if (plane == null) {
            return ring.stream().map(p -> new Point(p[0], p[1])).toList();
        }
        List<LocalPlane.Spot> spots = spots(ring);
        LocalPlane.check(spots, field);
        return plane.points(spots);
    }

    private static List<LocalPlane.Spot> spots(List<double[]> ring) {
        return ring.stream().map(p -> new LocalPlane.Spot(p[0], p[1])).toList();
    }

    private static LayoutSpec spec(Request r, Slope slope) {
        double vine = r.vineSpacingM();
        String alignment = Objects.requireNonNullElse(r.alignment(), "row");
        if (!alignment.equals("row") && !alignment.equals("square")) {
            throw new Refused("ground.preview.alignment").at("alignment");
        }
        LayoutSpec asked = new LayoutSpec(
                r.rowSpacingM(),
                vine,
                Objects.requireNonNullElse(r.headlandM(), 0.0),
                Objects.requireNonNullElse(r.sideMarginM(), 0.0),
                Objects.requireNonNullElse(r.endGapM(), vine / 2),
                r.rowBearingDeg(),
                r.firstRowOffsetM(),
                Objects.requireNonNullElse(r.minVinesPerRow(), 3),
                alignment.equals("row") ? Alignment.ROW : Alignment.SQUARE);
        return r.rowBearingDeg() == null ? asked : asked.bearing(slope.bearingOnGround(r.rowBearingDeg()));
    }

    private static double[] pair(Point p, @Nullable LocalPlane plane) {
        if (plane == null) {
            return new double[] {round(p.x(), 1e9), round(p.y(), 1e9)};
        }
        LocalPlane.Spot spot = plane.spot(p);
        return new double[] {round(spot.longitude(), 1e10), round(spot.latitude(), 1e10)};
    }

    /** Takes away what is only rounding in the last digits. */
    private static double round(double value, double per) {
        double rounded = Math.rint(value * per) / per;
        return rounded == 0 ? 0 : rounded;
    }

    private String text(Layout.Warning warning) {
        return warnings.say(warning, LocaleContextHolder.getLocale());
    }
}
