package org.rootling.training.calc;

import java.time.LocalDate;
import java.time.MonthDay;
import java.util.Comparator;
import java.util.Optional;
import org.jspecify.annotations.Nullable;

/** When a piece of care first falls due. */
public sealed interface Timing {

    /** The first due day; empty while it hangs on something that has not happened yet. */
    Optional<Start> start(CareFacts facts);

    /**
     * A first due day.
     *
     * @param from measured from the first planted vine
     * @param fromLast the same measured from the last planted vine; late counts from here
     * @param estimate whether it rests on an estimated stage or on a stand-in number of days
     */
    record Start(LocalDate from, LocalDate fromLast, boolean estimate) {}

    /** A number of days after planting. */
    record AfterPlanting(int days) implements Timing {
        public AfterPlanting {
            if (days < 0 || days > 730) {
                throw new IllegalArgumentException("days after planting must be 0 to 730: " + days);
            }
        }

        @Override
        public Optional<Start> start(CareFacts facts) {
            return Optional.of(new Start(
                    facts.plantedFirst().plusDays(days), facts.plantedLast().plusDays(days), false));
        }
    }

    /**
     * When a growth stage is reached.
     *
     * @param orAfterDays days after planting at which to look anyway where no stage was seen; null to wait for it
     */
    record AtStage(Bbch stage, @Nullable Integer orAfterDays) implements Timing {
        @Override
        public Optional<Start> start(CareFacts facts) {
            Optional<StageSeen> reached = facts.stages().stream()
                    .filter(s -> !s.on().isBefore(facts.plantedFirst())
                            && !s.on().isAfter(facts.today())
                            && s.stage().hasReached(stage))
                    .min(Comparator.comparing(StageSeen::on).thenComparing(StageSeen::estimate));
            if (reached.isPresent()) {
                LocalDate on = reached.get().on();
                return Optional.of(new Start(on, on, reached.get().estimate()));
            }
            return Optional.ofNullable(orAfterDays)
                    .map(days -> new Start(
                            facts.plantedFirst().plusDays(days),
                            facts.plantedLast().plusDays(days),
                            true));
        }
    }

    /**
     * On a date of the year, the first one on or after planting. South of the equator half a year later: 15 August north
     * is 15 February south.
     */
    record OnDate(MonthDay north) implements Timing {
        @Override
        public Optional<Start> start(CareFacts facts) {
            LocalDate first = onOrAfter(north, facts.plantedFirst(), facts.southern());
            LocalDate last = onOrAfter(north, facts.plantedLast(), facts.southern());
            // A straggler planted after the date does not put the whole row off by a year.
            return Optional.of(new Start(first, last.isAfter(first.plusDays(180)) ? first : last, false));
        }

        /** The first day on or after {@code from} that has this northern date in its hemisphere. */
        public static LocalDate onOrAfter(MonthDay north, LocalDate from, boolean southern) {
            for (int year = from.getYear() - 1; ; year++) {
                LocalDate day = north.atYear(year);
                LocalDate local = southern ? day.plusMonths(6) : day;
                if (!local.isBefore(from)) {
                    return local;
                }
            }
        }
    }

    /** When the heat since planting reaches a sum, in degree days base 10 °C. */
    record AtHeat(double degreeDays) implements Timing {
        public AtHeat {
            if (!(degreeDays > 0 && degreeDays <= 5000)) {
                throw new IllegalArgumentException("a heat sum must be above 0 and at most 5000: " + degreeDays);
            }
        }

        @Override
        public Optional<Start> start(CareFacts facts) {
            return facts.heat()
                    .reaches(facts.plantedFirst(), degreeDays)
                    .filter(on -> !on.isAfter(facts.today()))
                    .map(on -> new Start(
                            on,
                            facts.heat()
                                    .reaches(facts.plantedLast(), degreeDays)
                                    .orElse(on),
                            false));
        }
    }

    /** After each day with at least this much rain, in mm; the latest such day counts. */
    record AfterRain(double mm) implements Timing {
        public AfterRain {
            if (!(mm > 0 && mm <= 500)) {
                throw new IllegalArgumentException("rain must be above 0 and at most 500 mm: " + mm);
            }
        }

        @Override
        public Optional<Start> start(CareFacts facts) {
            return facts.rain()
                    .lastAtLeast(facts.plantedFirst(), facts.today(), mm)
                    .map(on -> new Start(on.plusDays(1), on.plusDays(1), false));
        }
    }
}
