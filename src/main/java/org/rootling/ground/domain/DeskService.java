package org.rootling.ground.domain;

import java.util.List;
import org.rootling.ground.Block;
import org.rootling.ground.BlockDesk;
import org.rootling.ground.Point;
import org.rootling.ground.calc.Field;
import org.rootling.ground.calc.LayoutSpec;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

/** Makes blocks through the same service as the pages do. */
@Component
@Transactional
class DeskService implements BlockDesk {

    private final GroundService ground;

    DeskService(GroundService ground) {
        this.ground = ground;
    }

    @Override
    public Block add(String code, String name, List<Point> corners) {
        return ground.add(code, name, Boundary.typed(Field.of(corners, List.of())), name);
    }

    @Override
    public void exclude(String code, String name, List<Point> corners) {
        ground.exclude(code, name, corners);
    }

    @Override
    public void layOut(
            String code,
            double rowSpacingM,
            double vineSpacingM,
            double headlandM,
            double sideMarginM,
            double rowBearingDeg) {
        int version = ground.sheet(code).block().version();
        ground.accept(
                code,
                version,
                LayoutSpec.of(rowSpacingM, vineSpacingM, headlandM, sideMarginM).bearing(rowBearingDeg));
    }
}
