package org.rootling.exchange.domain;

import java.util.List;
import java.util.Locale;
import org.rootling.ground.Ground;
import org.rootling.ground.PlaceRun;
import org.rootling.ground.ResolvedRun;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Lots;
import org.rootling.people.CurrentMember;
import org.rootling.planting.NewPlanting;
import org.rootling.planting.Vines;
import org.rootling.platform.Ids;
import org.rootling.platform.Refused;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Vines that stand already: each line is a lot put into a run of places on a day. */
@Component
@Order(4)
class VinesImport implements ImportKind {

    private final Vines vines;
    private final Lots lots;
    private final Ground ground;
    private final CurrentMember member;

    VinesImport(Vines vines, Lots lots, Ground ground, CurrentMember member) {
        this.vines = vines;
        this.lots = lots;
        this.ground = ground;
        this.member = member;
    }

    @Override
    public String name() {
        return "vines";
    }

    @Override
    public List<String> columns() {
        return List.of("block", "row", "places", "lot", "planted");
    }

    @Override
    public List<String> needed() {
        return columns();
    }

    @Override
    public String together(ImportLine line) {
        return Integer.toString(line.number());
    }

    @Override
    public void take(List<ImportLine> lines) {
        for (ImportLine line : lines) {
            String code = line.needed("lot", 20);
            Lot lot = lots.byCode(code).orElseThrow(() -> new Refused("exchange.import.no-lot", code).at("lot"));
            ResolvedRun run = ground.resolve(PlaceRun.of(
                    line.needed("block", 12).toUpperCase(Locale.ROOT),
                    line.whole("row", 1, 99_999),
                    PlaceRun.numbers(line.needed("places", 300))));
            vines.plant(new NewPlanting(
                    Ids.next(), run.row().id(), run.places(), lot.id(), line.neededDay("planted"), member.accountId()));
        }
    }

    @Override
    public String page() {
        return "/year-one";
    }
}
