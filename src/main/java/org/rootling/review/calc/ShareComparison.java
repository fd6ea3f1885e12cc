package org.rootling.review.calc;

import java.util.ArrayList;
import java.util.List;

/**
 * Shares alive of several groups of vines, and which of them differ beyond chance.
 *
 * @param groups each group's share with its interval, in the order given
 * @param pairs every pair of groups, first against later
 */
public record ShareComparison(List<GroupShare> groups, List<Pair> pairs) {

    public ShareComparison {
        groups = List.copyOf(groups);
        pairs = List.copyOf(pairs);
    }

    /** Counts of one group: {@code 0 <= alive <= planted}, at least one planted. */
    public record Group(String name, int planted, int alive) {}

    /** A group with its share alive and that share's interval. */
    public record GroupShare(String name, int planted, int alive, ShareInterval interval) {}

    /**
     * Two groups compared.
     *
     * @param p two-sided p of Fisher's exact test
     * @param correctedP the same after Holm's correction over all pairs
     */
    public record Pair(String a, String b, double p, double correctedP) {}

    /** Compares all groups; the work grows with the square of their number, not with the number of vines. */
    public static ShareComparison of(List<Group> groups, double confidence) {
        List<GroupShare> shares = groups.stream()
                .map(g -> new GroupShare(
                        g.name(), g.planted(), g.alive(), ShareInterval.wilson(g.alive(), g.planted(), confidence)))
                .toList();
        int n = groups.size();
        double[] p = new double[n * (n - 1) / 2];
        int at = 0;
        for (int i = 0; i < n; i++) {
            for (int j = i + 1; j < n; j++) {
                Group a = groups.get(i);
                Group b = groups.get(j);
                p[at++] = FisherExact.twoSided(a.alive(), a.planted() - a.alive(), b.alive(), b.planted() - b.alive());
            }
        }
        double[] corrected = Holm.correct(p);
        List<Pair> pairs = new ArrayList<>(p.length);
        at = 0;
        for (int i = 0; i < n; i++) {
            for (int j = i + 1; j < n; j++, at++) {
                pairs.add(new Pair(groups.get(i).name(), groups.get(j).name(), p[at], corrected[at]));
            }
        }
        return new ShareComparison(shares, pairs);
    }
}
