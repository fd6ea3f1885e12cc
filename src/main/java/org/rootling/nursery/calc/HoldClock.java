package org.rootling.nursery.calc;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Comparator;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.calc.HoldCase.Before;
import org.rootling.nursery.calc.HoldCase.Watering;
import org.rootling.nursery.calc.HoldReading.Action;
import org.rootling.nursery.calc.HoldReading.Allowance;
import org.rootling.nursery.calc.HoldReading.Choice;
import org.rootling.nursery.calc.HoldWeather.Course;
import org.rootling.nursery.calc.Limits.WarmthLimit;
import org.rootling.weather.calc.SoilBucket;
import org.rootling.weather.calc.WeatherDay;

/**
 * The hold clock: how much of each allowance is used at the start of a day, and on which day it runs out.
 *
 * <p>Rules. A day counts when it is over: on the day of placing nothing is used, the day after one day is. An allowance
 * runs out on the first day that begins with it used up, so 28 days from 12 March run out on 9 April. Watering counts at
 * once on its day. Projections assume no further watering. The hold's answer is the earliest of its allowances, and of
 * a spread the earliest year: planting in time must hold in the worst year known.
 *
 * <p>Soil dryness follows FAO-56 ({@link SoilBucket}); degree days are the mean of the day's extremes over a base, after
 * common viticultural use (Winkler). That used shares carry over when a hold moves is our own rule.
 */
public final class HoldClock {
    private static final double TINY = 1e-9;

    private HoldClock() {}

    /**
     * When a level becomes {@link HoldLevel#SOON}.
     *
     * @param share from this used share on
     * @param days or when days or warmth run out within so many days
     * @param dryDays or when dryness runs out within so many days
     */
    public record Soon(double share, int days, int dryDays) {
        /** Three quarters used, a week ahead, for water a day ahead (common practice, no source). */
        public static final Soon USUAL = new Soon(0.75, 7, 1);
    }

    /**
     * A store the vines could be moved to.
     *
     * @param name words for it
     * @param limits what it allows
     */
    public record Alternative(String name, Limits limits) {}

    /** Reads the clock of one hold, with what would gain time. */
    public static HoldReading read(HoldCase hold, HoldWeather weather, Soon soon, List<Alternative> alternatives) {
        HoldReading plain = read(hold, weather, soon);
        List<Choice> choices = new ArrayList<>();
        water(hold, weather, soon, plain).ifPresent(choices::add);
        LocalDate lasting = lasting(plain);
        if (lasting != null) {
            for (Alternative to : alternatives) {
                LocalDate then = lasting(read(moved(hold, to.limits(), weather), weather, soon));
                Integer gain = then == null ? null : gain(weather.on(), lasting, then);
                if (gain == null || gain > 0) {
                    choices.add(new Choice(Action.MOVE, to.name(), then, gain));
                }
            }
        }
        choices.sort(Comparator.comparing(Choice::gainDays, Comparator.nullsFirst(Comparator.reverseOrder())));
        return new HoldReading(
                plain.on(),
                plain.allowances(),
                plain.unknown(),
                plain.level(),
                plain.runsOutOn(),
                plain.deciding(),
                plain.basis(),
                choices);
    }

    /** Reads the clock of one hold. */
    public static HoldReading read(HoldCase hold, HoldWeather weather, Soon soon) {
        List<Allowance> allowances = new ArrayList<>();
        List<AllowanceKind> unknown = new ArrayList<>();
        Limits limits = hold.limits();
        if (limits.days() != null) {
            allowances.add(days(hold, limits.days(), weather.on(), soon));
        }
        if (limits.warmth() != null) {
            if (limits.warmth().storeC() == null && !weather.known()) {
                unknown.add(AllowanceKind.WARMTH);
            } else {
                allowances.add(warmth(hold, limits.warmth(), weather, soon));
            }
        }
        if (limits.dryness() != null) {
            Allowance dry = dryness(hold, limits.dryness(), weather, soon);
            if (dry == null) {
                unknown.add(AllowanceKind.DRYNESS);
            } else {
                allowances.add(dry);
            }
        }
        HoldLevel level = HoldLevel.EASY;
        Allowance deciding = null;
        for (Allowance a : allowances) {
            level = a.level().compareTo(level) > 0 ? a.level() : level;
            if (a.runsOutOn() != null && (deciding == null || a.runsOutOn().isBefore(deciding.runsOutOn()))) {
                deciding = a;
            }
        }
        return new HoldReading(
                weather.on(),
                allowances,
                unknown,
                level,
                deciding == null ? null : deciding.runsOutOn(),
                deciding == null ? null : deciding.kind(),
                deciding == null ? Basis.NONE : deciding.basis(),
                List.of());
    }

    /**
     * The same vines after a move on the day asked. Used shares of days and warmth carry over, so that half the time
     * left in one store is half the time left in the next; water starts afresh.
     */
    public static HoldCase moved(HoldCase hold, Limits to, HoldWeather weather) {
        Limits from = hold.limits();
        LocalDate on = weather.on();
        double days = usedDays(hold, on);
        double weight = from.days() == null || to.days() == null ? 1 : to.days() / from.days();
        double warmth = hold.before().stream().mapToDouble(Before::degreeDays).sum();
        WarmthLimit limit = from.warmth();
        if (limit != null && (limit.storeC() != null || weather.known())) {
            warmth = warmth(hold, limit, weather, Soon.USUAL).used();
            if (to.warmth() != null) {
                warmth *= to.warmth().degreeDays() / limit.degreeDays();
            }
        }
        return new HoldCase(on, List.of(new Before("", days, weight, warmth)), to, List.of());
    }

    private static Optional<Choice> water(HoldCase hold, HoldWeather weather, Soon soon, HoldReading plain) {
        Allowance dry = of(plain, AllowanceKind.DRYNESS);
        if (dry == null || (dry.level() == HoldLevel.EASY && plain.deciding() != AllowanceKind.DRYNESS)) {
            return Optional.empty();
        }
        List<Watering> waterings = new ArrayList<>(hold.waterings());
        waterings.add(new Watering(weather.on(), null));
        HoldReading then = read(new HoldCase(hold.since(), hold.before(), hold.limits(), waterings), weather, soon);
        LocalDate runsOut = then.runsOutOn();
        Integer gain =
                runsOut == null || plain.runsOutOn() == null ? null : gain(weather.on(), plain.runsOutOn(), runsOut);
        if (gain != null && gain <= 0 && dry.level() == HoldLevel.EASY) {
            return Optional.empty();
        }
        return Optional.of(new Choice(Action.WATER, "", runsOut, gain == null ? null : Math.max(0, gain)));
    }

    private static int gain(LocalDate on, LocalDate before, LocalDate after) {
        LocalDate from = before.isBefore(on) ? on : before;
        return Math.toIntExact(ChronoUnit.DAYS.between(from, after));
    }

    /** The earliest run-out of what watering cannot renew. */
    private static @Nullable LocalDate lasting(HoldReading reading) {
        LocalDate earliest = null;
        for (Allowance a : reading.allowances()) {
            if (a.kind() != AllowanceKind.DRYNESS
                    && a.runsOutOn() != null
                    && (earliest == null || a.runsOutOn().isBefore(earliest))) {
                earliest = a.runsOutOn();
            }
        }
        return earliest;
    }

    private static @Nullable Allowance of(HoldReading reading, AllowanceKind kind) {
        return reading.allowances().stream()
                .filter(a -> a.kind() == kind)
                .findFirst()
                .orElse(null);
    }

    private static double usedDays(HoldCase hold, LocalDate on) {
        double before =
                hold.before().stream().mapToDouble(b -> b.days() * b.weight()).sum();
        return before + elapsed(hold.since(), on);
    }

    private static long elapsed(LocalDate since, LocalDate on) {
        return Math.max(0, ChronoUnit.DAYS.between(since, on));
    }

    private static Allowance days(HoldCase hold, double allowed, LocalDate on, Soon soon) {
        double used = usedDays(hold, on);
        double before = used - elapsed(hold.since(), on);
        LocalDate out = hold.since().plusDays(wholeDays(allowed - before));
        return certain(AllowanceKind.DAYS, used, allowed, "days", out, Basis.CALENDAR, on, soon);
    }

    private static long wholeDays(double days) {
        return (long) Math.max(0, Math.min(Math.ceil(days - TINY), 100_000));
    }

    private static Allowance warmth(HoldCase hold, WarmthLimit limit, HoldWeather weather, Soon soon) {
        LocalDate on = weather.on();
        double used = hold.before().stream().mapToDouble(Before::degreeDays).sum();
        if (limit.storeC() != null) {
            double daily = limit.ofDay(limit.storeC(), limit.storeC());
            double now = used + daily * elapsed(hold.since(), on);
            LocalDate out = daily > 0 || used >= limit.degreeDays()
                    ? hold.since().plusDays(daily > 0 ? wholeDays((limit.degreeDays() - used) / daily) : 0)
                    : null;
            return certain(
                    AllowanceKind.WARMTH,
                    now,
                    limit.degreeDays(),
                    "degree days",
                    out,
                    Basis.STORE_TEMPERATURE,
                    on,
                    soon);
        }
        LocalDate crossed = used >= limit.degreeDays() - TINY ? hold.since() : null;
        Course past = weather.past();
        int end = weather.indexOf(on);
        for (int i = weather.indexOf(hold.since()); i < end; i++) {
            WeatherDay first = weather.beforeFirst();
            used += i < 0 ? limit.ofDay(first.lowC(), first.highC()) : limit.ofDay(past.low[i], past.high[i]);
            if (crossed == null && used >= limit.degreeDays() - TINY) {
                crossed = on.plusDays(i + 1L - end);
            }
        }
        if (crossed != null) {
            return certain(
                    AllowanceKind.WARMTH,
                    used,
                    limit.degreeDays(),
                    "degree days",
                    crossed,
                    Basis.RECORDED,
                    on,
                    soon,
                    weather.estimatedSince(hold.since()));
        }
        int start = Math.toIntExact(elapsed(on, hold.since()));
        int[] outs = new int[weather.ahead().size()];
        for (int c = 0; c < outs.length; c++) {
            Course course = weather.ahead().get(c);
            double sum = used;
            outs[c] = -1;
            for (int i = start; i < weather.reach(); i++) {
                sum += limit.ofDay(course.low[i], course.high[i]);
                if (sum >= limit.degreeDays() - TINY) {
                    outs[c] = i + 1;
                    break;
                }
            }
        }
        return spread(AllowanceKind.WARMTH, used, limit.degreeDays(), "degree days", outs, hold, weather, soon);
    }

    private static @Nullable Allowance dryness(HoldCase hold, DryLimit limit, HoldWeather weather, Soon soon) {
        if (limit instanceof DryLimit.Interval interval) {
            return sinceWater(hold, interval.days(), 1, "days", weather.on(), soon);
        }
        if (limit instanceof DryLimit.Hours hours) {
            return sinceWater(hold, hours.hours(), 24, "hours", weather.on(), soon);
        }
        return weather.known() ? soil(hold, (DryLimit.Bucket) limit, weather, soon) : null;
    }

    private static Allowance sinceWater(
            HoldCase hold, double allowed, double perDay, String unit, LocalDate on, Soon soon) {
        LocalDate last = hold.since();
        for (Watering w : hold.waterings()) {
            if (w.date().isAfter(last) && !w.date().isAfter(on)) {
                last = w.date();
            }
        }
        double used = perDay * elapsed(last, on);
        LocalDate out = last.plusDays(wholeDays(allowed / perDay));
        return certain(AllowanceKind.DRYNESS, used, allowed, unit, out, Basis.CALENDAR, on, soon);
    }

    private static Allowance soil(HoldCase hold, DryLimit.Bucket bucket, HoldWeather weather, Soon soon) {
        LocalDate on = weather.on();
        Map<LocalDate, Double> water = new TreeMap<>();
        for (Watering w : hold.waterings()) {
            if (!w.date().isBefore(hold.since()) && !w.date().isAfter(on)) {
                water.merge(w.date(), w.mm() == null ? bucket.totalMm() : w.mm(), Double::sum);
            }
        }
        double allowed = bucket.allowedMm();
        double rainShare = bucket.rainReaches() ? 1 : 0;
        Course past = weather.past();
        WeatherDay first = weather.beforeFirst();
        int end = weather.indexOf(on);
        double depletion = 0;
        LocalDate crossed = null;
        for (int i = weather.indexOf(hold.since()); i <= end; i++) {
            LocalDate date = on.plusDays((long) i - end);
            depletion = Math.max(0, depletion - water.getOrDefault(date, 0.0));
            if (depletion < allowed - TINY) {
                crossed = null;
            } else if (crossed == null) {
                crossed = date;
            }
            if (i < end) {
                double rain = i < 0 ? first.rainMm() : past.rain[i];
                double et0 = i < 0 ? first.et0Mm() : past.et0[i];
                depletion = SoilBucket.depletionAfter(
                        depletion, bucket.totalMm(), bucket.p(), rainShare * rain, bucket.factor() * et0);
            }
        }
        if (crossed != null) {
            return certain(
                    AllowanceKind.DRYNESS,
                    depletion,
                    allowed,
                    "mm",
                    crossed,
                    Basis.RECORDED,
                    on,
                    soon,
                    weather.estimatedSince(hold.since()));
        }
        int start = Math.toIntExact(elapsed(on, hold.since()));
        int[] outs = new int[weather.ahead().size()];
        for (int c = 0; c < outs.length; c++) {
            Course course = weather.ahead().get(c);
            double ahead = depletion;
            outs[c] = -1;
            for (int i = start; i < weather.reach(); i++) {
                ahead = SoilBucket.depletionAfter(
                        ahead,
                        bucket.totalMm(),
                        bucket.p(),
                        rainShare * course.rain[i],
                        bucket.factor() * course.et0[i]);
                if (ahead >= allowed - TINY) {
                    outs[c] = i + 1;
                    break;
                }
            }
        }
        return spread(AllowanceKind.DRYNESS, depletion, allowed, "mm", outs, hold, weather, soon);
    }

    private static Allowance certain(
            AllowanceKind kind,
            double used,
            double allowed,
            String unit,
            @Nullable LocalDate out,
            Basis basis,
            LocalDate on,
            Soon soon) {
        return certain(kind, used, allowed, unit, out, basis, on, soon, 0);
    }

    private static Allowance certain(
            AllowanceKind kind,
            double used,
            double allowed,
            String unit,
            @Nullable LocalDate out,
            Basis basis,
            LocalDate on,
            Soon soon,
            int estimated) {
        return new Allowance(
                kind,
                used,
                allowed,
                unit,
                used / allowed,
                out,
                out,
                out,
                out == null ? Basis.NONE : basis,
                0,
                estimated,
                level(kind, used / allowed, out, on, soon));
    }

    /** The allowance from the run-outs of all courses, in days after the day asked, -1 for never. */
    private static Allowance spread(
            AllowanceKind kind,
            double used,
            double allowed,
            String unit,
            int[] outs,
            HoldCase hold,
            HoldWeather weather,
            Soon soon) {
        LocalDate on = weather.on();
        int[] sorted = Arrays.stream(outs)
                .map(o -> o < 0 ? Integer.MAX_VALUE : o)
                .sorted()
                .toArray();
        int n = sorted.length;
        LocalDate earliest = n == 0 ? null : date(on, sorted[0]);
        LocalDate middle = n == 0 ? null : date(on, sorted[(n - 1) / 2]);
        LocalDate latest = n == 0 ? null : date(on, sorted[n - 1]);
        Basis basis = earliest == null ? Basis.NONE : weather.basisAt(sorted[n - 1]);
        return new Allowance(
                kind,
                used,
                allowed,
                unit,
                used / allowed,
                earliest,
                middle,
                latest,
                basis,
                basis == Basis.EARLIER_YEARS ? n : 0,
                weather.estimatedSince(hold.since()),
                level(kind, used / allowed, earliest, on, soon));
    }

    private static @Nullable LocalDate date(LocalDate on, int days) {
        return days == Integer.MAX_VALUE ? null : on.plusDays(days);
    }

    private static HoldLevel level(AllowanceKind kind, double share, @Nullable LocalDate out, LocalDate on, Soon soon) {
        if (share >= 1 - TINY) {
            return HoldLevel.OVER;
        }
        int ahead = kind == AllowanceKind.DRYNESS ? soon.dryDays() : soon.days();
        boolean near = out != null && !out.isAfter(on.plusDays(ahead));
        return share >= soon.share() || near ? HoldLevel.SOON : HoldLevel.EASY;
    }
}
