package org.rootling.training;

import java.util.List;
import org.rootling.ground.Block;
import org.rootling.planting.Tally;

/**
 * The first year of a block.
 *
 * @param lines every item, in the order of their standing, then of the list
 */
public record BlockYear(Block block, Tally tally, List<CareLine> lines) {

    public List<CareLine> with(CareLine.Standing standing) {
        return lines.stream().filter(l -> l.standing() == standing).toList();
    }

    public int late() {
        return with(CareLine.Standing.LATE).size();
    }

    public int due() {
        return with(CareLine.Standing.DUE).size();
    }
}
