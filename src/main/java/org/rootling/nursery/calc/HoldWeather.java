package org.rootling.nursery.calc;

import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.Collection;
import java.util.List;
import java.util.NavigableMap;
import java.util.TreeMap;
import org.jspecify.annotations.Nullable;
import org.rootling.weather.calc.WeatherDay;

/**
 * The weather laid out once for one day asked and read by any number of holds: the past with its holes filled, and the
 * year ahead as one or more courses.
 *
 * <p>A past day without a record is estimated by the mean of the same day in other years, else by the mean of the
 * nearest days known on either side; such days are counted and said. The days ahead are the recorded or forecast ones
 * first; then the same days of earlier years, one course a year, if at least one year has four fifths of the coming
 * {@value #WINDOW} days; else the last fortnight over and over, if at least five of its days are known; else nothing.
 */
public final class HoldWeather {
    /** How far ahead a run-out is looked for, days. */
    public static final int HORIZON = 366;

    private static final int WINDOW = 90;
    private static final double ENOUGH = 0.8;
    private static final int MOST_YEARS = 30;
    private static final int LONGEST_PAST = 3 * 366;
    private static final int FORTNIGHT = 14;
    private static final int FEWEST_OF_FORTNIGHT = 5;

    /** One run of days in flat arrays. */
    static final class Course {
        final double[] low;
        final double[] high;
        final double[] rain;
        final double[] et0;

        Course(int length) {
            low = new double[length];
            high = new double[length];
            rain = new double[length];
            et0 = new double[length];
        }

        Course(Course other) {
            low = other.low.clone();
            high = other.high.clone();
            rain = other.rain.clone();
            et0 = other.et0.clone();
        }

        void set(int i, WeatherDay day) {
            low[i] = day.lowC();
            high[i] = day.highC();
            rain[i] = day.rainMm();
            et0[i] = day.et0Mm();
        }

        void copy(int i, Course from, int j) {
            low[i] = from.low[j];
            high[i] = from.high[j];
            rain[i] = from.rain[j];
            et0[i] = from.et0[j];
        }
    }

    private final LocalDate on;
    private final boolean known;
    private final long firstDay;
    private final Course past;
    private final boolean[] estimated;
    private final WeatherDay beforeAll;
    private final List<Course> ahead;
    private final int knownAhead;
    private final int recordedAhead;
    private final Basis mode;

    private HoldWeather(
            LocalDate on,
            boolean known,
            long firstDay,
            Course past,
            boolean[] estimated,
            WeatherDay beforeAll,
            List<Course> ahead,
            int knownAhead,
            int recordedAhead,
            Basis mode) {
        this.on = on;
        this.known = known;
        this.firstDay = firstDay;
        this.past = past;
        this.estimated = estimated;
        this.beforeAll = beforeAll;
        this.ahead = ahead;
        this.knownAhead = knownAhead;
        this.recordedAhead = recordedAhead;
        this.mode = mode;
    }

    /** No weather at all: only days, hours and watering intervals can be read. */
    public static HoldWeather none(LocalDate on) {
        WeatherDay nothing = new WeatherDay(on, 0, 0, 0, 0, true);
        return new HoldWeather(
                on, false, on.toEpochDay(), new Course(0), new boolean[0], nothing, List.of(), 0, 0, Basis.NONE);
    }

    /**
     * Lays out the weather.
     *
     * @param days recorded and forecast days in any order; of two with the same date a recorded one wins, else the
     *     later in the list
     * @param on the day asked; what happened before its start counts as past
     */
    public static HoldWeather of(Collection<WeatherDay> days, LocalDate on) {
        NavigableMap<LocalDate, WeatherDay> byDate = new TreeMap<>();
        for (WeatherDay day : days) {
            byDate.merge(day.date(), day, (a, b) -> b.forecast() && !a.forecast() ? a : b);
        }
        if (byDate.isEmpty()) {
            return none(on);
        }
        long onDay = on.toEpochDay();
        long firstDay = Math.max(Math.min(byDate.firstKey().toEpochDay(), onDay), onDay - LONGEST_PAST);
        int pastLength = Math.toIntExact(onDay - firstDay);
        Course past = new Course(pastLength);
        boolean[] estimated = new boolean[pastLength];
        fillPast(byDate, firstDay, past, estimated);

        Course shared = new Course(HORIZON);
        int knownAhead = 0;
        int recordedAhead = 0;
        boolean[] given = new boolean[HORIZON];
        for (WeatherDay day : byDate.subMap(on, on.plusDays(HORIZON)).values()) {
            int i = Math.toIntExact(day.date().toEpochDay() - onDay);
            given[i] = true;
            shared.set(i, day);
            if (i == knownAhead) {
                knownAhead++;
                recordedAhead = day.forecast() ? recordedAhead : knownAhead;
            }
        }
        List<Course> ahead = earlierYears(byDate, on, shared, given);
        Basis mode = Basis.EARLIER_YEARS;
        if (ahead.isEmpty()) {
            ahead = lastFortnight(byDate, on, shared, given);
            mode = Basis.LAST_FORTNIGHT;
        }
        if (ahead.isEmpty()) {
            ahead = List.of(shared);
            mode = Basis.NONE;
        }
        WeatherDay beforeAll = mean(byDate.values().stream().limit(FORTNIGHT).toList());
        return new HoldWeather(on, true, firstDay, past, estimated, beforeAll, ahead, knownAhead, recordedAhead, mode);
    }

    private static void fillPast(
            NavigableMap<LocalDate, WeatherDay> byDate, long firstDay, Course past, boolean[] estimated) {
        for (int i = 0; i < estimated.length; i++) {
            LocalDate date = LocalDate.ofEpochDay(firstDay + i);
            WeatherDay day = byDate.get(date);
            estimated[i] = day == null || day.forecast();
            past.set(i, day != null ? day : estimate(byDate, date));
        }
    }

    private static WeatherDay estimate(NavigableMap<LocalDate, WeatherDay> byDate, LocalDate date) {
        List<WeatherDay> same = new ArrayList<>();
        int from = Math.max(byDate.firstKey().getYear(), date.getYear() - MOST_YEARS);
        int to = Math.min(byDate.lastKey().getYear(), date.getYear() + MOST_YEARS);
        for (int year = from; year <= to; year++) {
            WeatherDay day = byDate.get(date.withYear(year));
            if (day != null && !day.forecast()) {
                same.add(day);
            }
        }
        if (same.isEmpty()) {
            var lower = byDate.lowerEntry(date);
            var higher = byDate.higherEntry(date);
            if (lower != null) {
                same.add(lower.getValue());
            }
            if (higher != null) {
                same.add(higher.getValue());
            }
        }
        return mean(same);
    }

    private static WeatherDay mean(List<WeatherDay> days) {
        return WeatherDay.mean(days.get(0).date(), days);
    }

    private static List<Course> earlierYears(
            NavigableMap<LocalDate, WeatherDay> byDate, LocalDate on, Course shared, boolean[] given) {
        List<Integer> years = new ArrayList<>();
        for (int back = 1; back <= MOST_YEARS; back++) {
            int found = 0;
            for (int i = 0; i < WINDOW; i++) {
                found += recorded(byDate, on.plusDays(i).minusYears(back)) == null ? 0 : 1;
            }
            if (found >= ENOUGH * WINDOW) {
                years.add(back);
            }
        }
        List<Course> courses = new ArrayList<>();
        for (int ignored : years) {
            courses.add(new Course(shared));
        }
        for (int i = 0; i < HORIZON; i++) {
            if (given[i]) {
                continue;
            }
            LocalDate date = on.plusDays(i);
            List<WeatherDay> found = new ArrayList<>();
            List<Course> holes = new ArrayList<>();
            for (int y = 0; y < years.size(); y++) {
                WeatherDay day = recorded(byDate, date.minusYears(years.get(y)));
                if (day == null) {
                    holes.add(courses.get(y));
                } else {
                    found.add(day);
                    courses.get(y).set(i, day);
                }
            }
            for (Course hole : holes) {
                if (!found.isEmpty()) {
                    hole.set(i, mean(found));
                } else if (i > 0) {
                    hole.copy(i, hole, i - 1);
                }
            }
        }
        return courses;
    }

    private static @Nullable WeatherDay recorded(NavigableMap<LocalDate, WeatherDay> byDate, LocalDate date) {
        WeatherDay day = byDate.get(date);
        return day == null || day.forecast() ? null : day;
    }

    private static List<Course> lastFortnight(
            NavigableMap<LocalDate, WeatherDay> byDate, LocalDate on, Course shared, boolean[] given) {
        List<WeatherDay> last =
                new ArrayList<>(byDate.subMap(on.minusDays(FORTNIGHT), on).values());
        if (last.size() < FEWEST_OF_FORTNIGHT) {
            return List.of();
        }
        Course course = new Course(shared);
        for (int i = 0; i < HORIZON; i++) {
            if (!given[i]) {
                course.set(i, last.get(i % last.size()));
            }
        }
        return List.of(course);
    }

    /** The day asked. */
    public LocalDate on() {
        return on;
    }

    /** Whether any weather is known. */
    public boolean known() {
        return known;
    }

    Basis mode() {
        return mode;
    }

    List<Course> ahead() {
        return ahead;
    }

    /** How many days ahead can be run through: all, or only those given when nothing can be projected. */
    int reach() {
        return mode == Basis.NONE ? knownAhead : HORIZON;
    }

    /** What a run-out at the start of day {@code i} ahead rests on. */
    Basis basisAt(int i) {
        if (i <= recordedAhead) {
            return Basis.RECORDED;
        }
        return i <= knownAhead ? Basis.FORECAST : mode;
    }

    /** The past course; days before its first are had from {@link #beforeFirst}. */
    Course past() {
        return past;
    }

    /** Index of a past day in {@link #past}; negative before the first record. */
    int indexOf(LocalDate date) {
        return Math.toIntExact(date.toEpochDay() - firstDay);
    }

    /** What is assumed of days before the first record: the mean of its first fortnight. */
    WeatherDay beforeFirst() {
        return beforeAll;
    }

    int estimatedSince(LocalDate since) {
        int from = indexOf(since);
        int count = Math.max(0, -from);
        for (int i = Math.max(0, from); i < estimated.length; i++) {
            count += estimated[i] ? 1 : 0;
        }
        return Math.min(count, (int) Math.max(0, on.toEpochDay() - since.toEpochDay()));
    }

    @Override
    public String toString() {
        return "HoldWeather[on=" + on + ", past=" + estimated.length + ", ahead=" + mode + " x" + ahead.size() + ", "
                + Arrays.toString(new int[] {recordedAhead, knownAhead}) + "]";
    }
}
