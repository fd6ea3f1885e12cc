package org.rootling.trellis.web;

import org.rootling.platform.MarkupWriter;
import org.rootling.trellis.calc.Assembly;
import org.rootling.trellis.calc.EndPost;
import org.rootling.trellis.calc.LinePosts;
import org.rootling.trellis.calc.RowLine;
import org.rootling.trellis.calc.Tie;
import org.rootling.trellis.calc.TrellisSpec;

/**
 * Draws the end assembly and the row to scale, seen from the side: 100 drawing units are a metre, the post's foot is the
 * origin, the row runs to the right.
 */
final class EndDrawing {
    private static final double M = 100;
    private static final double TEXT = 19;
    /** A longer row would be too thin to see. */
    private static final double LONGEST_SHOWN_M = 20;

    private final TrellisSpec spec;
    private final EndPost post;
    private final Words words;
    private final MarkupWriter svg = new MarkupWriter();

    private EndDrawing(TrellisSpec spec, Words words) {
        this.spec = spec;
        this.post = spec.post();
        this.words = words;
    }

    /** The end assembly with its measures. */
    static String end(TrellisSpec spec, RowLine row, Words words) {
        return new EndDrawing(spec, words).drawEnd(row);
    }

    /** The beginning of a stretch, posts and wires above the ground; a short one to its end. */
    static String row(TrellisSpec spec, RowLine row, Words words) {
        return new EndDrawing(spec, words).drawRow(row);
    }

    private String drawEnd(RowLine row) {
        boolean anchored = spec.hold().assembly() == Assembly.ANCHORED;
        double left = anchored
                ? Math.max(
                                post.setBackM(),
                                spec.hold().distanceM()
                                        + (spec.tie().angleDeg() < 90
                                                ? spec.hold().anchorRodM()
                                                        * Math.cos(Math.toRadians(
                                                                spec.tie().angleDeg()))
                                                : 0))
                        + 0.5
                : post.setBackM() + 1.1;
        double inner = anchored ? 0 : spec.hold().distanceM();
        double right = Math.max(inner, row.endGapM() + 1.2 * row.vineSpacingM()) + (anchored ? 1.6 : 2.2);
        double top = post.topHeightM() + 0.45;
        double anchorDepth = anchored
                ? spec.hold().anchorRodM() * Math.sin(Math.toRadians(spec.tie().angleDeg()))
                : 0;
        double bottom = Math.max(post.depthM(), anchorDepth) + 0.75;
        open(-left, top, left + right, top + bottom, "trellis.drawing.end", "end-told");
        ground(-left, right);
        for (TrellisSpec.WireLine wire : spec.wires()) {
            wire(wire, -post.outAtM(wire.heightM()), right);
        }
        for (double at = row.endGapM(); at < right - 1.0; at += row.vineSpacingM()) {
            line(at, 0, at, 0.35, "place", 3, "");
        }
        postShape(
                0, 0, post.leanDeg(), post.aboveM(), post.buriedM(), spec.end().diameterMm() / 1000);
        switch (spec.hold().assembly()) {
            case ANCHORED -> drawAnchor();
            case STRUT -> {
                double h = spec.holdHeightM();
                double foot = spec.hold().distanceM();
                pole(-post.outAtM(h), h, foot, 0, spec.hold().poleDiameterMm() / 1000);
                measure(0, foot, foot, "end", foot);
            }
            case H_BRACE -> {
                double h = spec.holdHeightM();
                double span = spec.hold().distanceM();
                postShape(span, 0, 0, post.aboveM(), post.buriedM(), spec.end().diameterMm() / 1000);
                pole(0, h, span, h, spec.hold().poleDiameterMm() / 1000);
                line(span, h, 0, 0.1, "line", 3, "");
                measure(0, span, span - 0.1, "end", span);
            }
        }
        dimensions();
        return svg.close("svg").toString();
    }

    private void drawAnchor() {
        Tie tie = spec.tie();
        double anchorX = -tie.anchorOutM();
        double dx = anchorX + tie.postOutM();
        double ux = dx / tie.lengthM();
        double uy = -tie.heightM() / tie.lengthM();
        double rod = spec.hold().anchorRodM();
        double plate = spec.hold().anchorPlateMm() / 1000 / 2;
        double endX = anchorX + ux * rod;
        double endY = uy * rod;
        line(-tie.postOutM(), tie.heightM(), anchorX, 0, "line", 3, "");
        line(anchorX, 0, endX, endY, "line", 5, "8 4");
        line(endX - uy * plate, endY + ux * plate, endX + uy * plate, endY - ux * plate, "line", 7, "");
        measure(anchorX, 0, anchorX / 2, "middle", tie.anchorOutM());
        label(anchorX + 0.17, 0.07, words.say("trellis.drawing.angle", Math.round(tie.angleDeg())), "start");
    }

    private void dimensions() {
        double top = post.topHeightM();
        double left = -post.setBackM() - 0.18;
        line(left, 0, left, top, "line", 1.5, "4 4");
        boolean anchored = spec.hold().assembly() == Assembly.ANCHORED;
        // beside the tie rather than across it
        double beside = anchored ? -(spec.tie().postOutM() + spec.tie().anchorOutM()) / 2 : left;
        label(beside - 0.08, top / 2, words.length(top), "end");
        double below = -post.depthM() - 0.12;
        if (post.leanDeg() > 0) {
            line(-post.setBackM(), top + 0.08, 0, top + 0.08, "line", 1.5, "4 4");
            line(0, 0, 0, top + 0.08, "line", 1, "2 6");
            label(0.05, top + 0.16, words.say("trellis.drawing.set-back", words.length(post.setBackM())), "start");
            label(
                    0.07,
                    Math.min(0.3, top / 4),
                    words.say("trellis.drawing.lean", words.plain(post.leanDeg())),
                    "start");
        }
        double butt = post.buttInM();
        line(butt + 0.14, 0, butt + 0.14, -post.depthM(), "line", 1.5, "4 4");
        label(
                butt + 0.2,
                -post.depthM() / 2 - 0.06,
                words.say("trellis.drawing.depth", words.length(post.depthM())),
                "start");
        label(butt, below - 0.2, words.say("trellis.drawing.buried", words.length(post.buriedM())), "middle");
    }

    private String drawRow(RowLine row) {
        LinePosts posts = spec.linePosts(row);
        boolean whole = row.lengthM() <= LONGEST_SHOWN_M;
        double shown = whole ? row.lengthM() : LONGEST_SHOWN_M;
        double out = spec.hold().assembly() == Assembly.ANCHORED ? spec.hold().distanceM() : 0;
        double side = Math.max(out, post.setBackM()) + 0.4;
        double right = whole ? shown + side : shown;
        double top = post.topHeightM() + 0.3;
        open(-side, top, right + side, top + 0.3, "trellis.drawing.row", "row-told");
        ground(-side, right);
        for (TrellisSpec.WireLine wire : spec.wires()) {
            double x = post.outAtM(wire.heightM());
            line(-x, wire.heightM(), whole ? shown + x : shown, wire.heightM(), "wire", 4, "");
        }
        for (int i = 0; i < row.vines(); i++) {
            double at = row.endGapM() + i * row.vineSpacingM();
            if (at < shown) {
                line(at, 0, at, 0.35, "place", 5, "");
            }
        }
        double above = spec.line().lengthM() - spec.line().buriedM();
        for (int i = 1; i <= posts.count(); i++) {
            double at = postAt(row, posts, i);
            if (at < shown) {
                thick(at, 0, at, above, Math.max(6, spec.line().diameterMm() / 10));
            }
        }
        mirroredEnd(0, 1);
        if (whole) {
            mirroredEnd(shown, -1);
        }
        return svg.close("svg").toString();
    }

    private double postAt(RowLine row, LinePosts posts, int number) {
        Integer every = spec.line().everyVines();
        return every == null
                ? number * row.lengthM() / (posts.count() + 1)
                : row.endGapM() + (number * every - 0.5) * row.vineSpacingM();
    }

    /** The end above the ground; {@code inwards} is 1 when the row runs to the right of it, -1 to the left. */
    private void mirroredEnd(double foot, int inwards) {
        double wide = spec.end().diameterMm() / 1000 * M;
        double topX = foot - inwards * post.setBackM();
        thick(foot, 0, topX, post.topHeightM(), wide);
        double h = spec.holdHeightM();
        double at = foot - inwards * post.outAtM(h);
        double d = spec.hold().distanceM();
        switch (spec.hold().assembly()) {
            case ANCHORED -> line(at, h, foot - inwards * d, 0, "line", 4, "");
            case STRUT -> thick(at, h, foot + inwards * d, 0, spec.hold().poleDiameterMm() / 10);
            case H_BRACE -> {
                thick(foot + inwards * d, 0, foot + inwards * d, post.aboveM(), wide);
                thick(foot, h, foot + inwards * d, h, spec.hold().poleDiameterMm() / 10);
                line(foot, 0.1, foot + inwards * d, h, "line", 4, "");
            }
        }
    }

    private void thick(double x1, double y1, double x2, double y2, double width) {
        svg.empty(
                "line",
                "class",
                "post",
                "x1",
                x1 * M,
                "y1",
                -y1 * M,
                "x2",
                x2 * M,
                "y2",
                -y2 * M,
                "stroke-width",
                width);
    }

    private void open(double left, double top, double width, double height, String titleKey, String told) {
        svg.open(
                "svg",
                "xmlns",
                "http://www.w3.org/2000/svg",
                "class",
                "plan",
                "role",
                "img",
                "aria-details",
                told,
                "viewBox",
                MarkupWriter.number(left * M) + " " + MarkupWriter.number(-top * M) + " "
                        + MarkupWriter.number(width * M) + " " + MarkupWriter.number(height * M));
        svg.text("title", words.say(titleKey));
    }

    private void ground(double from, double to) {
        line(from, 0, to, 0, "boundary", 4, "");
    }

    private void wire(TrellisSpec.WireLine wire, double from, double to) {
        for (int i = 0; i < wire.count(); i++) {
            double shift = wire.count() == 1 ? 0 : (i - (wire.count() - 1) / 2.0) * 0.035;
            line(from, wire.heightM() + shift, to, wire.heightM() + shift, "wire", 2, "");
        }
        label(
                to - 0.04,
                wire.heightM() + 0.05,
                words.say(
                        "trellis.drawing.wire",
                        words.length(wire.heightM()),
                        wire.count(),
                        words.force(wire.tensionN())),
                "end");
    }

    /** A post seen from the side; the buried part only in outline. */
    private void postShape(double x, double y, double leanDeg, double above, double buried, double diameter) {
        double sin = Math.sin(Math.toRadians(leanDeg));
        double cos = Math.cos(Math.toRadians(leanDeg));
        double r = diameter / 2;
        svg.empty(
                "polygon",
                "class",
                "post",
                "points",
                points(
                        x - cos * r,
                        y - sin * r,
                        x - cos * r - sin * above,
                        y - sin * r + cos * above,
                        x + cos * r - sin * above,
                        y + sin * r + cos * above,
                        x + cos * r,
                        y + sin * r));
        svg.empty(
                "polygon",
                "class",
                "place",
                "stroke-width",
                2.5,
                "points",
                points(
                        x - cos * r,
                        y - sin * r,
                        x + cos * r,
                        y + sin * r,
                        x + cos * r + sin * buried,
                        y + sin * r - cos * buried,
                        x - cos * r + sin * buried,
                        y - sin * r - cos * buried));
    }

    private void pole(double x1, double y1, double x2, double y2, double diameter) {
        thick(x1, y1, x2, y2, diameter * M);
    }

    /** A level measure just below the ground. */
    private void measure(double from, double to, double textAt, String anchor, double metres) {
        line(from, -0.12, to, -0.12, "line", 1.5, "4 4");
        label(textAt, -0.34, words.length(metres), anchor);
    }

    private void line(double x1, double y1, double x2, double y2, String kind, double width, String dashes) {
        svg.empty(
                "line",
                "class",
                kind,
                "x1",
                x1 * M,
                "y1",
                -y1 * M,
                "x2",
                x2 * M,
                "y2",
                -y2 * M,
                "stroke-width",
                width,
                "stroke-dasharray",
                dashes.isEmpty() ? "none" : dashes);
    }

    private void label(double x, double y, String text, String anchor) {
        svg.text("text", text, "x", x * M, "y", -y * M, "font-size", TEXT, "text-anchor", anchor);
    }

    private static String points(double... xy) {
        StringBuilder all = new StringBuilder();
        for (int i = 0; i < xy.length; i += 2) {
            all.append(MarkupWriter.number(xy[i] * M))
                    .append(',')
                    .append(MarkupWriter.number(-xy[i + 1] * M))
                    .append(' ');
        }
        return all.toString().strip();
    }
}
