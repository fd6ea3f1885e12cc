package org.rootling.exchange.domain;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import org.rootling.ground.Point;
import org.rootling.ground.RowDesk;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** Rows that stand already, from end post to end post: the lines of a block are its rows, and take the place of those before. */
@Component
@Order(3)
class RowsImport implements ImportKind {

    private final RowDesk rows;

    RowsImport(RowDesk rows) {
        this.rows = rows;
    }

    @Override
    public String name() {
        return "rows";
    }

    @Override
    public List<String> columns() {
        return List.of("block", "row", "start-east", "start-north", "end-east", "end-north", "places", "spacing");
    }

    @Override
    public List<String> needed() {
        return List.of("block", "row", "start-east", "start-north", "end-east", "end-north", "places");
    }

    @Override
    public String together(ImportLine line) {
        return line.text("block", "").toUpperCase(Locale.ROOT);
    }

    @Override
    public void take(List<ImportLine> lines) {
        List<RowDesk.SurveyedRow> surveyed = new ArrayList<>();
        for (ImportLine line : lines) {
            surveyed.add(new RowDesk.SurveyedRow(
                    line.whole("row", 1, 99_999),
                    new Point(line.metres("start-east"), line.metres("start-north")),
                    new Point(line.metres("end-east"), line.metres("end-north")),
                    line.whole("places", 1, 10_000),
                    line.text("spacing") == null ? null : line.metres("spacing")));
        }
        rows.survey(lines.get(0).needed("block", 12).toUpperCase(Locale.ROOT), surveyed);
    }

    @Override
    public String page() {
        return "/blocks";
    }
}
