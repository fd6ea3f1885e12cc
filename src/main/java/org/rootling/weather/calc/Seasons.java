package org.rootling.weather.calc;

import java.time.LocalDate;
import java.time.Month;

/**
 * The parts of a vineyard's year on either half of the earth. A season is named by the year in which it starts: 1
 * January in the north, 1 July in the south, where it runs into the next year.
 */
public final class Seasons {

    private Seasons() {}

    /** The season a day belongs to. */
    public static int of(LocalDate day, boolean south) {
        return south && day.getMonthValue() < 7 ? day.getYear() - 1 : day.getYear();
    }

    /** The whole season. */
    public static Span whole(int season, boolean south) {
        LocalDate first = LocalDate.of(season, south ? Month.JULY : Month.JANUARY, 1);
        return new Span(first, first.plusYears(1).minusDays(1));
    }

    /** The span of the Winkler sum: 1 April to 31 October; in the south 1 October to 30 April. */
    public static Span winkler(int season, boolean south) {
        return south
                ? new Span(LocalDate.of(season, 10, 1), LocalDate.of(season + 1, 4, 30))
                : new Span(LocalDate.of(season, 4, 1), LocalDate.of(season, 10, 31));
    }

    /** The span of the Huglin index: 1 April to 30 September; in the south 1 October to 31 March. */
    public static Span huglin(int season, boolean south) {
        return south
                ? new Span(LocalDate.of(season, 10, 1), LocalDate.of(season + 1, 3, 31))
                : new Span(LocalDate.of(season, 4, 1), LocalDate.of(season, 9, 30));
    }

    /** The half year in which the last frost of spring is looked for: the season's first six months. */
    public static Span spring(int season, boolean south) {
        Span whole = whole(season, south);
        return new Span(whole.first(), whole.first().plusMonths(6).minusDays(1));
    }

    /**
     * The dormant months before and at the start of a season, over which chill is summed: 1 November to the last of
     * February; in the south 1 May to 31 August (common practice, no source).
     */
    public static Span dormant(int season, boolean south) {
        return south
                ? new Span(LocalDate.of(season, 5, 1), LocalDate.of(season, 8, 31))
                : new Span(
                        LocalDate.of(season - 1, 11, 1),
                        LocalDate.of(season, 3, 1).minusDays(1));
    }
}
