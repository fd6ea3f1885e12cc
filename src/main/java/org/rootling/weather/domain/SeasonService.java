package org.rootling.weather.domain;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.List;
import java.util.NavigableMap;
import java.util.OptionalDouble;
import java.util.OptionalInt;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Vineyard;
import org.rootling.people.Vineyards;
import org.rootling.weather.calc.Chill;
import org.rootling.weather.calc.FrostNights;
import org.rootling.weather.calc.HeatSums;
import org.rootling.weather.calc.HuglinClass;
import org.rootling.weather.calc.LastFrost;
import org.rootling.weather.calc.Seasons;
import org.rootling.weather.calc.Span;
import org.rootling.weather.calc.WeatherDay;
import org.rootling.weather.calc.WinklerClass;
import org.springframework.stereotype.Service;
import org.springframework.transaction.annotation.Transactional;

/** The season's sums beside those of earlier seasons. */
@Service
public class SeasonService {
    private static final int MOST_SEASONS = 31;
    private static final double COMPLETE = 0.9;
    private static final double[] CHANCES = {0.5, 0.2, 0.1};

    /**
     * The sums of one season.
     *
     * @param season the year it is named by
     * @param label how it is written: 2027, or 2026/27 in the south
     * @param days how many of its days are known up to the day asked
     * @param outOf how many of its days have come
     * @param unconfirmed how many of the known days are forecasts that nothing measured has replaced
     * @param heat degree days over the vineyard's base in the growing months
     * @param winkler over 10 °C without a cut
     * @param winklerClass class of the season, null until it is over and nine tenths known
     * @param huglinClass the same of the Huglin index
     * @param frostNights nights at or below the frost limit
     * @param chillHours of the dormant months at its start
     * @param lastFrost last frost of its spring so far
     */
    public record Figures(
            int season,
            String label,
            int days,
            int outOf,
            int unconfirmed,
            HeatSums.Sum heat,
            HeatSums.Sum winkler,
            @Nullable WinklerClass winklerClass,
            HeatSums.Sum huglin,
            @Nullable HuglinClass huglinClass,
            double rainMm,
            double etMm,
            int frostNights,
            double chillHours,
            @Nullable LocalDate lastFrost) {}

    /**
     * A date of last frost by chance.
     *
     * @param chance chance of frost after it, 0 to 1
     * @param byYears by counting years
     * @param byNormal by the normal fit
     */
    public record FrostChance(
            double chance,
            @Nullable LocalDate byYears,
            @Nullable LocalDate byNormal) {}

    /**
     * What one month gave to the sums of its season; the months add up to them.
     *
     * @param first its first day
     * @param days how many of its days are known
     */
    public record Month(
            LocalDate first,
            int days,
            double heat,
            double winkler,
            double huglin,
            double rainMm,
            double etMm,
            int frostNights) {}

    /** One season's running heat sum: degree days at the end of each day since its growing months began. */
    public record Course(String label, List<Double> sums, int forecastFrom) {
        public Course {
            sums = List.copyOf(sums);
        }
    }

    /**
     * All that the season's page shows.
     *
     * @param figures of the season asked
     * @param earlier of those before it, newest first
     * @param frost chances of last frost, with the count of years they rest on
     * @param ahead nights at risk in the coming days
     * @param missing days of the last 30 without a record
     * @param courses running heat sums, the season asked first
     * @param months of the season asked, those with a day known
     */
    public record SeasonView(
            Figures figures,
            List<Figures> earlier,
            List<FrostChance> frost,
            int frostYears,
            List<FrostNights.Night> ahead,
            List<LocalDate> missing,
            List<Course> courses,
            List<Month> months,
            List<WeatherDay> recent,
            List<Integer> seasons) {
        public SeasonView {
            earlier = List.copyOf(earlier);
            frost = List.copyOf(frost);
            ahead = List.copyOf(ahead);
            missing = List.copyOf(missing);
            courses = List.copyOf(courses);
            months = List.copyOf(months);
            recent = List.copyOf(recent);
            seasons = List.copyOf(seasons);
        }
    }

    private final WeatherService weather;
    private final Vineyards vineyards;

    SeasonService(WeatherService weather, Vineyards vineyards) {
        this.weather = weather;
        this.vineyards = vineyards;
    }

    /** The season that today belongs to. */
    public int currentSeason() {
        return Seasons.of(vineyards.today(), vineyards.current().southern());
    }

    /** The season asked as it stands today. */
    @Transactional(readOnly = true)
    public SeasonView view(int season) {
        Vineyard vineyard = vineyards.current();
        LocalDate today = vineyards.today();
        boolean south = vineyard.southern();
        WeatherSettings settings = weather.settings();
        double latitude = weather.habits().latitudeDeg();
        NavigableMap<LocalDate, WeatherDay> days = new TreeMap<>();
        LocalDate from = Seasons.dormant(season - MOST_SEASONS, south).first();
        LocalDate end = Seasons.whole(season, south).last();
        LocalDate to = end.isBefore(today) ? end : today.plusDays(30);
        weather.days(from, to).forEach(d -> days.put(d.date(), d));

        List<Figures> all = new ArrayList<>();
        List<Course> courses = new ArrayList<>();
        List<@Nullable Integer> lastFrosts = new ArrayList<>();
        for (int s = season; s > season - MOST_SEASONS; s--) {
            Collection<WeatherDay> of = in(days, Seasons.whole(s, south), today).values();
            if (of.isEmpty() && s != season) {
                continue;
            }
            all.add(figures(days, s, south, today, settings, latitude));
            Course course = course(days, s, south, today, settings);
            if (s == season || !course.sums().isEmpty()) {
                courses.add(course);
            }
            Span spring = Seasons.spring(s, south);
            if (spring.last().isBefore(today) && in(days, spring, today).size() >= COMPLETE * spring.days()) {
                LocalDate last = lastFrost(days, spring, today, settings.frostC());
                lastFrosts.add(
                        last == null
                                ? null
                                : Math.toIntExact(
                                        last.toEpochDay() - spring.first().toEpochDay()));
            }
        }
        LocalDate springStart = Seasons.spring(season, south).first();
        List<WeatherDay> recent = new ArrayList<>(
                days.subMap(today.minusDays(45), true, today.plusDays(14), true).values());
        return new SeasonView(
                all.get(0),
                all.subList(1, all.size()),
                chances(lastFrosts, springStart),
                lastFrosts.size(),
                FrostNights.of(days.tailMap(today, true).values(), settings.stage(), settings.marginK()),
                missing(days, today),
                courses,
                months(in(days, Seasons.whole(season, south), today).values(), season, south, settings, latitude),
                recent,
                seasons(today, south));
    }

    private List<Integer> seasons(LocalDate today, boolean south) {
        int last = Seasons.of(today, south);
        int first = weather.firstDate().map(d -> Seasons.of(d, south)).orElse(last);
        List<Integer> seasons = new ArrayList<>();
        for (int s = last; s >= Math.min(first, last); s--) {
            seasons.add(s);
        }
        return seasons;
    }

    /** How a season is written. */
    public static String label(int season, boolean south) {
        return south ? "%d/%02d".formatted(season, (season + 1) % 100) : String.valueOf(season);
    }

    private static NavigableMap<LocalDate, WeatherDay> in(
            NavigableMap<LocalDate, WeatherDay> days, Span span, LocalDate today) {
        LocalDate last = span.last().isAfter(today) ? today : span.last();
        return last.isBefore(span.first()) ? new TreeMap<>() : days.subMap(span.first(), true, last, true);
    }

    private static Figures figures(
            NavigableMap<LocalDate, WeatherDay> days,
            int season,
            boolean south,
            LocalDate today,
            WeatherSettings settings,
            double latitude) {
        Span whole = Seasons.whole(season, south);
        Span growing = Seasons.winkler(season, south);
        Collection<WeatherDay> mine = in(days, whole, today).values();
        Collection<WeatherDay> grown = in(days, growing, today).values();
        double heat = 0;
        for (WeatherDay d : grown) {
            heat += degreeDays(d, settings);
        }
        int outOf = growing.daysUntil(today);
        HeatSums.Sum winkler = HeatSums.winkler(grown, growing, today);
        HeatSums.Sum huglin = HeatSums.huglin(grown, Seasons.huglin(season, south), today, latitude);
        double chill = 0;
        for (WeatherDay d : in(days, Seasons.dormant(season, south), today).values()) {
            chill += Chill.hours(d.lowC(), d.highC());
        }
        return new Figures(
                season,
                label(season, south),
                mine.size(),
                whole.daysUntil(today),
                (int) mine.stream()
                        .filter(d -> d.forecast() && d.date().isBefore(today))
                        .count(),
                new HeatSums.Sum(heat, grown.size(), outOf),
                winkler,
                complete(winkler, growing) ? WinklerClass.of(winkler.sum()) : null,
                huglin,
                complete(huglin, Seasons.huglin(season, south)) ? HuglinClass.of(huglin.sum()) : null,
                mine.stream().mapToDouble(WeatherDay::rainMm).sum(),
                mine.stream().mapToDouble(WeatherDay::et0Mm).sum(),
                (int) mine.stream().filter(d -> d.lowC() <= settings.frostC()).count(),
                chill,
                lastFrost(days, Seasons.spring(season, south), today, settings.frostC()));
    }

    private static List<Month> months(
            Collection<WeatherDay> days, int season, boolean south, WeatherSettings settings, double latitude) {
        TreeMap<LocalDate, List<WeatherDay>> byMonth = new TreeMap<>();
        days.forEach(d -> byMonth.computeIfAbsent(d.date().withDayOfMonth(1), m -> new ArrayList<>())
                .add(d));
        Span growing = Seasons.winkler(season, south);
        List<Month> months = new ArrayList<>();
        byMonth.forEach((first, of) -> {
            LocalDate last = first.plusMonths(1).minusDays(1);
            List<WeatherDay> grown = of.stream()
                    .filter(d ->
                            !d.date().isBefore(growing.first()) && !d.date().isAfter(growing.last()))
                    .toList();
            months.add(new Month(
                    first,
                    of.size(),
                    grown.stream().mapToDouble(d -> degreeDays(d, settings)).sum(),
                    HeatSums.winkler(grown, growing, last).sum(),
                    HeatSums.huglin(grown, Seasons.huglin(season, south), last, latitude)
                            .sum(),
                    of.stream().mapToDouble(WeatherDay::rainMm).sum(),
                    of.stream().mapToDouble(WeatherDay::et0Mm).sum(),
                    (int) of.stream().filter(d -> d.lowC() <= settings.frostC()).count()));
        });
        return months;
    }

    private static boolean complete(HeatSums.Sum sum, Span span) {
        return sum.outOf() == span.days() && sum.days() >= COMPLETE * span.days();
    }

    private static double degreeDays(WeatherDay d, WeatherSettings s) {
        Double cut = s.cutC();
        return HeatSums.degreeDays(
                d.lowC(), d.highC(), s.baseC(), cut == null ? Double.POSITIVE_INFINITY : cut, s.cut());
    }

    private static @Nullable LocalDate lastFrost(
            NavigableMap<LocalDate, WeatherDay> days, Span spring, LocalDate today, double frostC) {
        for (WeatherDay d : in(days, spring, today).descendingMap().values()) {
            if (d.lowC() <= frostC) {
                return d.date();
            }
        }
        return null;
    }

    private static Course course(
            NavigableMap<LocalDate, WeatherDay> days,
            int season,
            boolean south,
            LocalDate today,
            WeatherSettings settings) {
        Span growing = Seasons.winkler(season, south);
        LocalDate lastKnown = days.isEmpty() ? growing.first().minusDays(1) : days.lastKey();
        int length = growing.daysUntil(lastKnown);
        List<Double> sums = new ArrayList<>(length);
        double sum = 0;
        boolean any = false;
        for (int i = 0; i < length; i++) {
            WeatherDay d = days.get(growing.first().plusDays(i));
            if (d != null) {
                any = true;
                sum += degreeDays(d, settings);
            }
            sums.add(sum);
        }
        List<Double> known = any ? sums : List.of();
        return new Course(label(season, south), known, Math.min(growing.daysUntil(today), known.size()));
    }

    private static List<FrostChance> chances(List<@Nullable Integer> lastFrosts, LocalDate springStart) {
        List<FrostChance> chances = new ArrayList<>();
        for (double chance : CHANCES) {
            OptionalInt byYears = LastFrost.byYears(lastFrosts, chance);
            OptionalDouble byNormal = LastFrost.byNormal(lastFrosts, chance);
            chances.add(new FrostChance(
                    chance,
                    byYears.isPresent() ? springStart.plusDays(byYears.getAsInt()) : null,
                    byNormal.isPresent() ? springStart.plusDays(Math.round(byNormal.getAsDouble())) : null));
        }
        return chances;
    }

    private static List<LocalDate> missing(NavigableMap<LocalDate, WeatherDay> days, LocalDate today) {
        List<LocalDate> missing = new ArrayList<>();
        for (LocalDate d = today.minusDays(30); d.isBefore(today); d = d.plusDays(1)) {
            WeatherDay day = days.get(d);
            if (day == null || day.forecast()) {
                missing.add(d);
            }
        }
        return missing;
    }
}
