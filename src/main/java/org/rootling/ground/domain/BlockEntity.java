package org.rootling.ground.domain;

import jakarta.persistence.Column;
import jakarta.persistence.Entity;
import jakarta.persistence.EnumType;
import jakarta.persistence.Enumerated;
import jakarta.persistence.Table;
import java.time.Instant;
import java.util.Collection;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.rootling.ground.Block;
import org.rootling.ground.Point;
import org.rootling.ground.Row;
import org.rootling.ground.calc.Alignment;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.Layout;
import org.rootling.ground.calc.LayoutSpec;
import org.rootling.ground.calc.Slope;
import org.rootling.platform.VineyardRow;

/** A block with its boundary and the layout its rows follow. */
@Entity
@Table(name = "block")
class BlockEntity extends VineyardRow {
    private String code;
    private String name;
    private String boundary;

    @Column(name = "area_m2")
    private double areaM2;

    @Enumerated(EnumType.STRING)
    private BoundarySource boundarySource;

    private @Nullable String boundaryNote;
    private @Nullable Double originLatitude;
    private @Nullable Double originLongitude;

    @Column(name = "row_spacing_m")
    private double rowSpacingM;

    @Column(name = "vine_spacing_m")
    private double vineSpacingM;

    @Column(name = "headland_m")
    private double headlandM;

    @Column(name = "side_margin_m")
    private double sideMarginM;

    @Column(name = "end_gap_m")
    private double endGapM;

    private double rowBearingDeg;

    @Column(name = "first_row_offset_m")
    private double firstRowOffsetM;

    private int minVinesPerRow = 3;

    @Enumerated(EnumType.STRING)
    private Alignment alignment = Alignment.ROW;

    private double slopePercent;
    private double downhillDeg;
    private boolean measuredLevel = true;
    private int rowCount;
    private int placeCount;
    private @Nullable Double rowMetres = 0.0;
    private @Nullable Instant withdrawnAt;

    @SuppressWarnings("NullAway.Init")
    protected BlockEntity() {}

    @SuppressWarnings("NullAway.Init") // set by bound()
    BlockEntity(String code, String name, Boundary found) {
        this.code = code;
        this.name = name;
        bound(found);
    }

    /** Takes a newly found boundary. */
    final void bound(Boundary found) {
        this.boundary = Shapes.write(found.field().boundary());
        this.areaM2 = mapArea();
        this.boundarySource = found.source();
        this.boundaryNote = found.note();
        this.originLatitude = found.latitude();
        this.originLongitude = found.longitude();
    }

    private double mapArea() {
        double measured = Field.signedArea(corners());
        return measuredLevel ? measured : measured / slope().stretch();
    }

    /** Takes another slope; corners stay as they were measured. */
    void fall(Slope slope, boolean level) {
        this.slopePercent = slope.percent();
        this.downhillDeg = slope.downhillDeg();
        this.measuredLevel = level;
        this.areaM2 = mapArea();
    }

    Slope slope() {
        return new Slope(slopePercent, downhillDeg);
    }

    /** The corners were measured level, as on a map, and not along the ground. */
    boolean measuredLevel() {
        return measuredLevel;
    }

    void rename(String newName) {
        this.name = newName;
    }

    /** Follows an accepted layout, which became these rows. */
    void follow(Layout layout, List<Row> rows) {
        LayoutSpec spec = layout.spec();
        this.rowSpacingM = spec.rowSpacingM();
        this.vineSpacingM = spec.vineSpacingM();
        this.headlandM = spec.headlandM();
        this.sideMarginM = spec.sideMarginM();
        this.endGapM = spec.endGapM();
        this.rowBearingDeg = layout.rowBearingDeg();
        this.firstRowOffsetM = layout.firstRowOffsetM();
        this.minVinesPerRow = spec.minVinesPerRow();
        this.alignment = spec.alignment();
        hold(rows);
    }

    /** Takes over the layout of the block it was split from. */
    void followLike(BlockEntity other) {
        this.rowSpacingM = other.rowSpacingM;
        this.vineSpacingM = other.vineSpacingM;
        this.headlandM = other.headlandM;
        this.sideMarginM = other.sideMarginM;
        this.endGapM = other.endGapM;
        this.rowBearingDeg = other.rowBearingDeg;
        this.minVinesPerRow = other.minVinesPerRow;
        this.alignment = other.alignment;
        fall(other.slope(), other.measuredLevel);
    }

    /** Takes over what its rows in use are: how many lines, places, and metres from end post to end post. */
    void hold(Collection<Row> rows) {
        this.rowCount = rows.size();
        this.placeCount = rows.stream().mapToInt(Row::places).sum();
        this.rowMetres = rows.stream().mapToDouble(Row::lengthM).sum();
    }

    void withdraw(Instant at) {
        this.withdrawnAt = at;
    }

    boolean isWithdrawn() {
        return withdrawnAt != null;
    }

    String code() {
        return code;
    }

    String boundaryText() {
        return boundary;
    }

    List<Point> corners() {
        return Shapes.read(boundary);
    }

    BoundarySource boundarySource() {
        return boundarySource;
    }

    @Nullable
    String boundaryNote() {
        return boundaryNote;
    }

    @Nullable
    Double originLatitude() {
        return originLatitude;
    }

    @Nullable
    Double originLongitude() {
        return originLongitude;
    }

    /** The layout its rows follow, or null before the first. */
    @Nullable
    LayoutSpec spec() {
        return rowSpacingM == 0
                ? null
                : new LayoutSpec(
                        rowSpacingM,
                        vineSpacingM,
                        headlandM,
                        sideMarginM,
                        endGapM,
                        rowBearingDeg,
                        firstRowOffsetM,
                        minVinesPerRow,
                        alignment);
    }

    /** Corners as they were measured. */
    Field measured(List<List<Point>> exclusions) {
        return new Field(corners(), exclusions);
    }

    Block shown() {
        return new Block(
                getId(), code, name, areaM2, rowSpacingM, vineSpacingM, rowBearingDeg, rowCount, placeCount, version());
    }
}
