package org.rootling.training.web;

import org.rootling.platform.UnitText;
import org.rootling.training.ShootCount;
import org.springframework.stereotype.Component;

/** Shoots and height of a vine as the reader wants them, such as "2 / 36 cm". Templates use it as {@code @shootWords}. */
@Component("shootWords")
public class ShootWords {

    private static final String NOT_SEEN = "–";

    private final UnitText units;

    ShootWords(UnitText units) {
        this.units = units;
    }

    /** A dash for what was not looked at. */
    public String of(ShootCount count) {
        Integer shoots = count.shoots();
        Integer height = count.heightCm();
        return (shoots == null ? NOT_SEEN : shoots) + " / " + (height == null ? NOT_SEEN : units.height(height, 0));
    }
}
