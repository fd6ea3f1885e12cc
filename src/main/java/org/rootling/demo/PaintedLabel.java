package org.rootling.demo;

import java.awt.BasicStroke;
import java.awt.Color;
import java.awt.GradientPaint;
import java.awt.Graphics2D;
import java.awt.RenderingHints;
import java.awt.Shape;
import java.awt.geom.AffineTransform;
import java.awt.geom.Area;
import java.awt.geom.Ellipse2D;
import java.awt.geom.GeneralPath;
import java.awt.geom.Path2D;
import java.awt.geom.RoundRectangle2D;
import java.awt.image.BufferedImage;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.util.List;
import java.util.Random;
import javax.imageio.ImageIO;
import org.apache.fontbox.ttf.TTFParser;
import org.apache.fontbox.ttf.TrueTypeFont;
import org.apache.pdfbox.io.RandomAccessReadBuffer;
import org.rootling.nursery.Lot;
import org.rootling.nursery.Stock;
import org.rootling.platform.PdfWriter;

/**
 * A nursery's label on a bench, as a phone would have taken it; painted, since the demo holds nothing but what is invented.
 * The letters are outlines of the font that the PDFs use: a server without a screen may have no fonts of its own.
 */
final class PaintedLabel {

    private static final int WIDTH = 1400;
    private static final int HEIGHT = 1000;
    private static final int PLANKS = 4;
    private static final double TILT = Math.toRadians(-2.5);
    private static final Color INK = new Color(0x1f2a33);
    private static final Color PALE = new Color(0x5b6670);

    /** Two words for one document: in a language of the Union, and in English (Regulation (EU) 2017/2313, annex). */
    private static final String HEADING = "Passeport phytosanitaire / Plant Passport";

    private final Graphics2D pen;
    private final TrueTypeFont font;

    private PaintedLabel(Graphics2D pen, TrueTypeFont font) {
        this.pen = pen;
        this.font = font;
    }

    /** A JPEG of the label of a lot that came in so many bundles. */
    static byte[] of(Lot lot, Stock.Passport passport, int bundles, int bundleSize) {
        BufferedImage picture = new BufferedImage(WIDTH, HEIGHT, BufferedImage.TYPE_INT_RGB);
        Graphics2D pen = picture.createGraphics();
        ByteArrayOutputStream out = new ByteArrayOutputStream();
        try (InputStream outlines = PdfWriter.font();
                TrueTypeFont font = new TTFParser().parse(new RandomAccessReadBuffer(outlines))) {
            pen.setRenderingHint(RenderingHints.KEY_ANTIALIASING, RenderingHints.VALUE_ANTIALIAS_ON);
            PaintedLabel label = new PaintedLabel(pen, font);
            label.bench();
            label.card();
            label.write(lot, passport, bundles, bundleSize);
            label.light();
            ImageIO.write(picture, "jpg", out);
        } catch (IOException impossible) {
            throw new UncheckedIOException(impossible);
        } finally {
            pen.dispose();
        }
        return out.toByteArray();
    }

    /** Planks with their grain, darker at the joints. */
    private void bench() {
        Random grain = new Random(27);
        int plank = HEIGHT / PLANKS;
        for (int i = 0; i < PLANKS; i++) {
            int tone = grain.nextInt(14);
            pen.setPaint(new GradientPaint(
                    0,
                    i * plank,
                    new Color(0x8a + tone, 0x6d + tone, 0x4e + tone),
                    0,
                    (i + 1) * plank,
                    new Color(0x76 + tone, 0x5b + tone, 0x40 + tone)));
            pen.fillRect(0, i * plank, WIDTH, plank);
            for (int line = 0; line < 40; line++) {
                double y = i * plank + grain.nextDouble() * plank;
                Path2D wave = new Path2D.Double();
                wave.moveTo(0, y);
                wave.curveTo(WIDTH / 3.0, y + 9 * grain.nextGaussian(), WIDTH / 1.5, y, WIDTH, y + 6);
                pen.setColor(new Color(60, 40, 20, 14 + grain.nextInt(24)));
                pen.setStroke(new BasicStroke(1 + grain.nextFloat()));
                pen.draw(wave);
            }
            pen.setColor(new Color(0x3a2a1b));
            pen.fillRect(0, (i + 1) * plank - 4, WIDTH, 5);
        }
    }

    /** From here on the pen writes on the card, which lies a little askew. */
    private void card() {
        pen.rotate(TILT, WIDTH / 2.0, HEIGHT / 2.0);
        RoundRectangle2D edge = new RoundRectangle2D.Double(120, 150, WIDTH - 240, HEIGHT - 300, 36, 36);
        Ellipse2D hole = new Ellipse2D.Double(158, HEIGHT / 2.0 - 26, 52, 52);
        Area card = new Area(edge);
        card.subtract(new Area(hole));
        for (int soft = 14; soft > 0; soft -= 2) {
            pen.setColor(new Color(0, 0, 0, 18));
            pen.fill(card.createTransformedArea(AffineTransform.getTranslateInstance(soft, soft + 3.0)));
        }
        pen.setColor(new Color(0xf6f3ea));
        pen.fill(card);
        pen.setColor(new Color(0xb9b2a2));
        pen.setStroke(new BasicStroke(3));
        pen.draw(hole);
        Path2D string = new Path2D.Double();
        string.moveTo(184, HEIGHT / 2.0);
        string.curveTo(120, HEIGHT / 2.0 - 60, 60, HEIGHT / 2.0 + 70, -40, HEIGHT / 2.0 - 30);
        pen.setStroke(new BasicStroke(9, BasicStroke.CAP_ROUND, BasicStroke.JOIN_ROUND));
        pen.setColor(new Color(0xd8c9a0));
        pen.draw(string);
    }

    private void write(Lot lot, Stock.Passport passport, int bundles, int bundleSize) throws IOException {
        pen.setColor(INK);
        line(HEADING, 46, 250, 235);
        pen.fill(new RoundRectangle2D.Double(250, 258, 970, 4, 4, 4));
        int y = 335;
        for (List<String> part : List.of(
                List.of("A", String.valueOf(passport.botanical())),
                List.of("B", String.valueOf(passport.registration())),
                List.of("C", String.valueOf(passport.trace())),
                List.of("D", String.valueOf(passport.origin())))) {
            pen.setColor(PALE);
            line(part.get(0), 50, 250, y);
            pen.setColor(INK);
            line(part.get(1), 50, 330, y);
            y += 72;
        }
        pen.fill(new RoundRectangle2D.Double(250, y - 32, 970, 4, 4, 4));
        line(lot.variety() + " / " + lot.rootstock(), 58, 250, y + 48);
        line(lot.nursery() + " · " + bundles + " × " + bundleSize, 40, 250, y + 112);
        pen.setColor(PALE);
        line("invented for the demo of Rootling", 28, 250, y + 166);
    }

    /** Writes a line from its left end on the base line, in points of the picture. */
    private void line(String text, double size, double x, double y) throws IOException {
        double scale = size / font.getUnitsPerEm();
        double at = x;
        for (int i = 0; i < text.length(); i++) {
            String glyph =
                    font.getPostScript().getName(font.getUnicodeCmapLookup().getGlyphId(text.charAt(i)));
            GeneralPath outline = font.getPath(glyph);
            AffineTransform there = AffineTransform.getTranslateInstance(at, y);
            there.scale(scale, -scale);
            Shape letter = there.createTransformedShape(outline);
            pen.fill(letter);
            at += font.getWidth(glyph) * scale;
        }
    }

    /** Daylight from the upper left. */
    private void light() {
        pen.setTransform(new AffineTransform());
        pen.setPaint(new GradientPaint(0, 0, new Color(255, 250, 230, 46), WIDTH, HEIGHT, new Color(20, 20, 40, 70)));
        pen.fillRect(0, 0, WIDTH, HEIGHT);
    }
}
