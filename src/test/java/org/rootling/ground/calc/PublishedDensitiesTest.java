package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

/**
 * Vines per area as published.
 *
 * <p>L01 Iowa State University, Cost of Establishing a Vineyard in Iowa. L02 Read, University of Nebraska, Economic
 * Considerations in Starting a Vineyard. L03 Carpio and Safley, NC State University, Chardonnay cost study. L04, L05
 * biologyinsights.com, how many grape vines per acre. L06 avvwine.com, history page. L07 to L09 area divided by row times
 * vine spacing. An acre is 43,560 square feet, 4046.856 square metres.
 */
class PublishedDensitiesTest {
    private static final double FOOT = 0.3048;
    private static final double ACRE = 4046.856;

    @ParameterizedTest
    @CsvSource({
        "L01, 9, 7, 691, 0.5",
        "L02, 10, 8, 545, 0.51",
        "L03, 10, 7, 622, 0.5",
        "L04, 10, 6, 726, 0.5",
        "L05, 8, 4, 1361, 0.5",
        "L06, 12, 8, 454, 0.5",
        "L07, 9, 6, 806.67, 0.01"
    })
    void perAcre(String id, double rowFeet, double vineFeet, double published, double tolerance) {
        LayoutSpec spec = LayoutSpec.of(rowFeet * FOOT, vineFeet * FOOT, 0, 0);
        assertThat(spec.grossVinesPerHectare() * ACRE / 10_000).as(id).isCloseTo(published, within(tolerance));
    }

    @ParameterizedTest
    @CsvSource({"L08, 2.5, 1.2, 3333.33", "L09, 2.0, 1.0, 5000"})
    void perHectare(String id, double row, double vine, double published) {
        assertThat(LayoutSpec.of(row, vine, 0, 0).grossVinesPerHectare()).as(id).isCloseTo(published, within(0.01));
    }

    @ParameterizedTest
    @CsvSource({"L01, 9, 7, 691", "L02, 10, 8, 545", "L05, 8, 4, 1361"})
    void aLaidOutFieldWithoutHeadlandComesToThePublishedFigure(String id, double row, double vine, double published) {
        // a field of whole row and vine spacings, laid out vine by vine: each row and each vine has its own share
        double width = 60 * row * FOOT;
        double length = 60 * vine * FOOT;
        LayoutSpec spec =
                LayoutSpec.of(row * FOOT, vine * FOOT, 0, 0).bearing(0.0).offset(row * FOOT / 2);
        Layout layout = LayoutSolver.solve(LayoutSolverTest.rectangle(width, length), spec);
        assertThat(layout.rowCount()).isEqualTo(60);
        assertThat(layout.vinesPerHectare() * ACRE / 10_000).as(id).isCloseTo(published, within(0.51));
    }

    @Test
    void theFirstVineStandsHalfAVineSpacingFromTheEndPost() {
        // common practice, no source
        assertThat(LayoutSpec.of(2.2, 1.2, 6, 2).endGapM()).isEqualTo(0.6);
    }
}
