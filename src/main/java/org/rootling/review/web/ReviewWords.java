package org.rootling.review.web;

import java.text.NumberFormat;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import org.jspecify.annotations.Nullable;
import org.rootling.review.calc.LogRank;
import org.rootling.review.calc.ShareComparison;
import org.rootling.review.domain.Establishment;
import org.springframework.context.MessageSource;
import org.springframework.context.i18n.LocaleContextHolder;
import org.springframework.stereotype.Component;

/** What the statistics say, in sentences: for page and report alike. */
@Component
class ReviewWords {

    /** More sentences than these nobody reads. */
    private static final int MOST_DIFFERENCES = 10;

    private final MessageSource messages;

    ReviewWords(MessageSource messages) {
        this.messages = messages;
    }

    /** The short answer to "are they taking?". */
    String verdict(Establishment.Review review) {
        Establishment.Group all = review.all();
        var interval = all.interval();
        if (all.planted() == 0) {
            return text("review.review.verdict-nothing");
        }
        if (interval == null) {
            return text("review.review.verdict-unseen", all.planted());
        }
        // 95 % excellent, 85 % nearer the average: Bioletti, Univ. California Circular 249 (1922), check value P06.
        String key = interval.low() >= 0.95
                ? "review.review.verdict-excellent"
                : interval.low() >= 0.85
                        ? "review.review.verdict-good"
                        : interval.high() < 0.85 ? "review.review.verdict-poor" : "review.review.verdict-open";
        return text(key, percent(interval.share()), percent(interval.low()), percent(interval.high()), all.seen());
    }

    /** The differences beyond chance, one sentence each; or one that says there are none, or nothing to compare. */
    List<String> differences(Establishment.Review review) {
        int comparisons = review.pairs().size();
        if (comparisons == 0) {
            return List.of(text("review.review.nothing-to-compare"));
        }
        List<ShareComparison.Pair> different = review.different();
        if (different.isEmpty()) {
            ShareComparison.Pair nearest = review.pairs().get(0);
            return List.of(text("review.review.no-difference", comparisons, p(nearest.correctedP())));
        }
        Map<String, Establishment.Group> groups = new HashMap<>();
        review.groups().forEach(g -> groups.put(g.name(), g));
        return different.stream()
                .limit(MOST_DIFFERENCES)
                .map(pair -> difference(pair, groups, comparisons))
                .toList();
    }

    private String difference(ShareComparison.Pair pair, Map<String, Establishment.Group> groups, int comparisons) {
        double a = share(groups.get(pair.a()));
        double b = share(groups.get(pair.b()));
        boolean aBetter = a >= b;
        return text(
                "review.review.difference",
                aBetter ? pair.a() : pair.b(),
                percent(Math.max(a, b)),
                aBetter ? pair.b() : pair.a(),
                percent(Math.min(a, b)),
                p(pair.correctedP()),
                comparisons);
    }

    private static double share(Establishment.@Nullable Group group) {
        return group == null || group.interval() == null ? 0 : group.interval().share();
    }

    /** Whether the curves differ over the whole time. */
    String pace(Establishment.Review review) {
        LogRank test = review.logRank();
        if (test == null) {
            boolean died =
                    review.curves().stream().anyMatch(curve -> !curve.steps().isEmpty());
            return text(died ? "review.review.pace-alone" : "review.review.pace-none");
        }
        return text(test.p() < 0.05 ? "review.review.pace-differs" : "review.review.pace-same", p(test.p()));
    }

    /** The curves drawn; null where nothing was planted. */
    @Nullable
    String plot(Establishment.Review review) {
        if (review.curves().isEmpty()) {
            return null;
        }
        return SurvivalPlot.draw(
                review.curves(),
                new SurvivalPlot.Words(
                        text("review.plot.title"),
                        text("review.plot.days"),
                        text("review.plot.alive"),
                        LocaleContextHolder.getLocale()));
    }

    private static String percent(double share) {
        return NumberFormat.getPercentInstance(LocaleContextHolder.getLocale()).format(share);
    }

    /** A p value as people can hold it: three decimals, or "less than 0.001". */
    String p(double p) {
        Locale locale = LocaleContextHolder.getLocale();
        return p < 0.001 ? "< " + String.format(locale, "%.3f", 0.001) : String.format(locale, "%.3f", p);
    }

    private String text(String key, Object... args) {
        return messages.getMessage(key, args, LocaleContextHolder.getLocale());
    }
}
