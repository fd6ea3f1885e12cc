package org.rootling.trellis.domain;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import java.sql.Connection;
import java.sql.SQLException;
import java.sql.Statement;
import java.util.UUID;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.rootling.support.AppTest;
import org.rootling.support.TestDatabase;
import org.rootling.support.TestVineyard;
import org.rootling.support.TestVineyards;
import org.rootling.trellis.Trellis;
import org.rootling.trellis.TrellisBlocks;
import org.rootling.trellis.calc.StartingPlans;
import org.springframework.beans.factory.annotation.Autowired;

@AppTest
class TrellisDatabaseTest {
    @Autowired
    TestVineyards vineyards;

    @Autowired
    TrellisPlans plans;

    @ParameterizedTest
    @ValueSource(
            strings = {
                "end_lean_deg = 46",
                "end_buried_m = end_length_m",
                "assembly = 'GUY'",
                "line_buried_m = line_length_m + 1",
                "coldest_c = tightened_c + 1",
                "tie_strands = 0",
                "assembly = 'H_BRACE'"
            })
    void theDatabaseItselfRefusesAnImpossiblePlan(String change) throws SQLException {
        TestVineyard vineyard = vineyards.fresh();
        UUID block = TrellisBlocks.block(vineyard, "B1", 1);
        vineyard.run(() -> plans.start(block, StartingPlans.LOW));
        try (Connection owner = TestDatabase.asOwner();
                Statement statement = owner.createStatement()) {
            assertThatThrownBy(() -> statement.executeUpdate(
                            "update trellis_plan set " + change + " where block_id = '" + block + "'"))
                    .isInstanceOf(SQLException.class)
                    .hasMessageContaining("check constraint");
        }
    }

    @Test
    void aPlanComesBackAsItWasStored() {
        TestVineyard vineyard = vineyards.fresh();
        UUID block = TrellisBlocks.block(vineyard, "B1", 2);
        vineyard.run(() -> plans.start(block, StartingPlans.HIGH));
        assertThat(vineyard.inside(() -> plans.require(block)).spec()).isEqualTo(StartingPlans.HIGH.spec());
        assertThat(vineyard.inside(() -> plans.byBlock()).get(block).spec()).isEqualTo(StartingPlans.HIGH.spec());
    }

    @Test
    void aPlanIsNotSeenFromAnotherVineyard() {
        TestVineyard vineyard = vineyards.fresh();
        UUID block = TrellisBlocks.block(vineyard, "B1", 1);
        vineyard.run(() -> plans.start(block, StartingPlans.LOW));
        assertThat(vineyards.fresh().inside(() -> plans.ofBlock(block))).isEmpty();
    }

    @Test
    void otherModulesLearnThePartsOfEachRow() {
        TestVineyard vineyard = vineyards.fresh();
        UUID block = TrellisBlocks.block(vineyard, "B1", 3);
        assertThat(vineyard.inside(() -> plans.parts(block))).isEmpty();
        vineyard.run(() -> plans.start(block, StartingPlans.MEDIUM));
        assertThat(vineyard.inside(() -> plans.parts(block))).hasSize(3).allSatisfy(row -> {
            assertThat(row.endPosts()).isEqualTo(2);
            assertThat(row.linePosts()).isEqualTo(13);
            assertThat(row.wireRuns()).isEqualTo(6);
            assertThat(row.wireM()).isEqualTo(6 * 86);
            assertThat(row.stakes()).isEqualTo(70);
        });
        Trellis.PlanFacts facts = vineyard.inside(() -> plans.plan(block)).orElseThrow();
        assertThat(facts.pullN()).isEqualTo(800 + 4 * 350 + 400);
    }
}
