package org.rootling.nursery.web;

import com.fasterxml.jackson.annotation.JsonInclude;
import io.swagger.v3.oas.annotations.Operation;
import io.swagger.v3.oas.annotations.tags.Tag;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import org.jspecify.annotations.Nullable;
import org.rootling.nursery.Advice;
import org.rootling.nursery.Allowance;
import org.rootling.nursery.Hold;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.Needs;
import org.rootling.people.Role;
import org.rootling.people.Vineyards;
import org.rootling.platform.NotFound;
import org.rootling.platform.Refused;
import org.springframework.format.annotation.DateTimeFormat;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.RequestMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.bind.annotation.RestController;

/** Lots and their hold clocks for programs. */
@RestController
@RequestMapping("/api/v1/lots")
@Tag(name = "Lots", description = "Nursery lots and how long they may still wait")
class LotApi {

    /** A lot in the list. */
    record LotJson(String code, String variety, String rootstock, LocalDate received, int balance) {}

    /** One allowance; where earlier years were asked, the spread over them. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record AllowanceJson(
            String kind,
            BigDecimal used,
            BigDecimal allowed,
            String unit,
            BigDecimal share,
            @Nullable LocalDate runsOutOn,
            @Nullable LocalDate runsOutEarliest,
            @Nullable LocalDate runsOutMiddle,
            @Nullable LocalDate runsOutLatest,
            String level,
            String basis,
            @Nullable Integer years,
            @Nullable Integer estimatedDays) {}

    /** What would gain time. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record AdviceJson(
            String action,
            @Nullable String store,
            @Nullable LocalDate runsOutOn,
            @Nullable Integer gainDays) {}

    /** One hold. */
    @JsonInclude(JsonInclude.Include.NON_NULL)
    record HoldJson(
            String store,
            String kind,
            int count,
            LocalDate since,
            List<AllowanceJson> allowances,
            String level,
            @Nullable LocalDate runsOutOn,
            String basis,
            List<String> unknown,
            List<AdviceJson> advice) {}

    /** All holds of a lot on a day. */
    record LotHoldJson(String lot, LocalDate on, List<HoldJson> holds) {}

    private final Lots lots;
    private final Vineyards vineyards;

    LotApi(Lots lots, Vineyards vineyards) {
        this.lots = lots;
        this.vineyards = vineyards;
    }

    @GetMapping
    @Needs(Role.READER)
    @Operation(summary = "All lots, oldest first")
    List<LotJson> list() {
        return lots.all().stream()
                .map(l -> new LotJson(l.code(), l.variety(), l.rootstock(), l.received(), l.balance()))
                .toList();
    }

    @GetMapping("/{code}/hold")
    @Needs(Role.READER)
    @Operation(summary = "Where a lot's vines wait and how long they may, at the start of a day (default today)")
    LotHoldJson hold(
            @PathVariable String code,
            @RequestParam(required = false) @DateTimeFormat(iso = DateTimeFormat.ISO.DATE) @Nullable LocalDate on) {
        Lot lot = lots.byCode(code).orElseThrow(() -> new NotFound("lot"));
        LocalDate day = on == null ? vineyards.today() : on;
        if (day.getYear() < 1990 || day.getYear() > 2100) {
            throw new Refused("platform.form.date-out-of-range").at("on");
        }
        return new LotHoldJson(
                lot.code(),
                day,
                lots.holds(lot.id(), day).stream().map(LotApi::json).toList());
    }

    private static HoldJson json(Hold hold) {
        return new HoldJson(
                hold.store(),
                word(hold.kind()),
                hold.count(),
                hold.since(),
                hold.allowances().stream().map(LotApi::json).toList(),
                word(hold.level()),
                hold.runsOutOn(),
                hold.basis(),
                hold.unknown(),
                hold.advice().stream().map(LotApi::json).toList());
    }

    private static AllowanceJson json(Allowance a) {
        boolean spread = a.years() > 0;
        return new AllowanceJson(
                a.kind(),
                number(a.used(), 3),
                number(a.allowed(), 3),
                a.unit(),
                number(a.share(), 4),
                a.runsOutOn(),
                spread ? a.runsOutOn() : null,
                spread ? a.runsOutMiddle() : null,
                spread ? a.runsOutLatest() : null,
                word(a.level()),
                a.basis(),
                spread ? a.years() : null,
                a.estimatedDays() > 0 ? a.estimatedDays() : null);
    }

    private static AdviceJson json(Advice a) {
        return new AdviceJson(a.action(), a.where().isEmpty() ? null : a.where(), a.runsOutOn(), a.gainDays());
    }

    private static BigDecimal number(double value, int decimals) {
        BigDecimal rounded = BigDecimal.valueOf(value)
                .setScale(decimals, RoundingMode.HALF_UP)
                .stripTrailingZeros();
        return rounded.scale() < 0 ? rounded.setScale(0) : rounded;
    }

    private static String word(Enum<?> value) {
        return value.name().toLowerCase(Locale.ROOT).replace('_', '-');
    }
}
