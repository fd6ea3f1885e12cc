package org.rootling.training.domain;

import java.time.LocalDate;
import java.util.List;
import java.util.Optional;
import java.util.UUID;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyards;
import org.rootling.training.Stage;
import org.rootling.training.calc.Bbch;
import org.rootling.training.calc.FrostNights;
import org.rootling.weather.Weather;
import org.rootling.weather.calc.FrostStage;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** Nights at risk for a block at its present stage. */
@Service
@Transactional(readOnly = true)
public class BlockFrost {

    private static final int DAYS_BACK = 14;
    private static final int DAYS_AHEAD = 14;

    /**
     * Nights at risk.
     *
     * @param estimate whether the stage is not seen but expected
     * @param level row of the frost table; null where it has none, as for dormant vines
     * @param marginK how much colder it may be at the vine than at the thermometer, K
     */
    public record Risk(
            Bbch stage, boolean estimate, @Nullable FrostStage level, double marginK, List<FrostNights.Night> nights) {}

    private final Stages stages;
    private final Weather weather;
    private final Vineyards vineyards;

    BlockFrost(Stages stages, Weather weather, Vineyards vineyards) {
        this.stages = stages;
        this.weather = weather;
        this.vineyards = vineyards;
    }

    /** Empty where no stage of this season is known. */
    public Optional<Risk> of(UUID blockId) {
        LocalDate today = vineyards.today();
        LocalDate season = stages.seasonStart(today);
        Optional<Bbch> seen = stages.recorded(blockId).stream()
                .filter(s -> !s.on().isBefore(season))
                .map(Stage::stage)
                .findFirst();
        Optional<Bbch> stage = seen.isPresent() ? seen : stages.estimate(blockId);
        return stage.map(s -> new Risk(
                s,
                seen.isEmpty(),
                FrostNights.tableRow(s).orElse(null),
                weather.habits().marginK(),
                FrostNights.at(
                        s,
                        weather.days(today.minusDays(DAYS_BACK), today.plusDays(DAYS_AHEAD)),
                        weather.habits().marginK())));
    }
}
