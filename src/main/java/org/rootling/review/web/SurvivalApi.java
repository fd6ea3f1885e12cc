package org.rootling.review.web;

import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.media.ArraySchema;
import io.swagger.v3.oas.annotations.media.Schema;
import io.swagger.v3.oas.annotations.tags.Tag;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.platform.Refused;
import org.rootling.review.calc.LogRank;
import org.rootling.review.calc.ShareComparison;
import org.rootling.review.calc.SurvivalCurve;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestBody;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RestController;

/** Survival statistics of any numbers sent in; nothing is stored, so a reader may ask as well. */
@RestController
@RequestMapping("/api/v1")
@Tag(name = "Review")
class SurvivalApi {

    private static final int MOST_GROUPS = 200;
    private static final int MOST_VINES = 10_000_000;
    private static final int LONGEST_NAME = 100;
    private static final double USUAL_CONFIDENCE = 0.95;

    /** Groups of vines with how many were planted and are alive. */
    record PreviewRequest(
            @Nullable List<@Nullable GroupCounts> groups,

            @Schema(description = "two-sided, 0.5 to 0.9999", defaultValue = "0.95") @Nullable
            BigDecimal confidence) {}

    record GroupCounts(
            @Nullable String name,
            @Nullable BigDecimal planted,
            @Nullable BigDecimal alive) {}

    /** Shares with Wilson's interval; pairs with Fisher's exact p and the same after Holm's correction. */
    record PreviewAnswer(double confidence, List<GroupAnswer> groups, List<ShareComparison.Pair> pairs) {}

    record GroupAnswer(
            String name, int planted, int alive, double share, double low, double high, boolean smallNumbers) {}

    record CurvesRequest(
            @ArraySchema(schema = @Schema(implementation = Life.class)) @Nullable
            Lives lives) {}

    /** One vine: its group, whole days from planting to death or to the last look at it alive. */
    record Life(String group, int days, boolean died) {}

    /** Kaplan-Meier curves by group and the log-rank test between them (null where there is nothing to compare). */
    record CurvesAnswer(
            List<SurvivalCurve> groups, @Nullable LogRank logRank) {}

    @PostMapping("/survival-previews")
    @Needs(Role.READER)
    @Operation(summary = "Shares alive with their uncertainty, and which groups differ beyond chance")
    PreviewAnswer shares(@RequestBody PreviewRequest request) {
        double confidence = confidence(request.confidence());
        ShareComparison result = ShareComparison.of(groups(request.groups()), confidence);
        return new PreviewAnswer(
                confidence,
                result.groups().stream()
                        .map(g -> new GroupAnswer(
                                g.name(),
                                g.planted(),
                                g.alive(),
                                g.interval().share(),
                                g.interval().low(),
                                g.interval().high(),
                                g.interval().smallNumbers()))
                        .toList(),
                result.pairs());
    }

    @PostMapping("/survival-curves")
    @Needs(Role.READER)
    @Operation(summary = "Survival over time by group, and whether the groups differ")
    CurvesAnswer curves(@RequestBody CurvesRequest request) {
        if (request.lives() == null) {
            throw new Refused("review.api.no-lives").at("lives");
        }
        var groups = request.lives().groups();
        return new CurvesAnswer(
                groups.entrySet().stream()
                        .map(e -> SurvivalCurve.of(e.getKey(), e.getValue()))
                        .toList(),
                LogRank.of(List.copyOf(groups.values())));
    }

    private static double confidence(@Nullable BigDecimal asked) {
        double confidence = asked == null ? USUAL_CONFIDENCE : asked.doubleValue();
        if (!(confidence >= 0.5 && confidence <= 0.9999)) {
            throw new Refused("review.api.confidence").at("confidence");
        }
        return confidence;
    }

    private static List<ShareComparison.Group> groups(@Nullable List<@Nullable GroupCounts> asked) {
        if (asked == null || asked.isEmpty()) {
            throw new Refused("review.api.no-groups").at("groups");
        }
        if (asked.size() > MOST_GROUPS) {
            throw new Refused("review.api.too-many-groups", MOST_GROUPS).at("groups");
        }
        List<ShareComparison.Group> groups = new ArrayList<>();
        Set<String> names = new HashSet<>();
        for (int i = 0; i < asked.size(); i++) {
            String at = "groups[" + i + "]";
            GroupCounts counts = asked.get(i);
            if (counts == null) {
                throw new Refused("review.api.no-groups").at(at);
            }
            String name = counts.name() == null ? "" : counts.name().strip();
            if (name.isEmpty() || name.length() > LONGEST_NAME) {
                throw new Refused("review.api.no-group-name").at(at + ".name");
            }
            if (!names.add(name)) {
                throw new Refused("review.api.same-name", name).at(at + ".name");
            }
            int planted = count(counts.planted(), 1, at + ".planted");
            int alive = count(counts.alive(), 0, at + ".alive");
            if (alive > planted) {
                throw new Refused("review.api.more-alive", alive, planted).at(at + ".alive");
            }
            groups.add(new ShareComparison.Group(name, planted, alive));
        }
        return groups;
    }

    private static int count(@Nullable BigDecimal asked, int least, String field) {
        try {
            int count = asked == null ? -1 : asked.intValueExact();
            if (count >= least && count <= MOST_VINES) {
                return count;
            }
        } catch (ArithmeticException notWhole) {
            // answered below like any other number that cannot be a count
        }
        throw new Refused("review.api.count", least, MOST_VINES).at(field);
    }
}
