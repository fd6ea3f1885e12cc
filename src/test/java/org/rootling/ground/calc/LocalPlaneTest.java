package org.rootling.ground.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.integers;

import java.util.ArrayList;
import java.util.List;
import java.util.Random;
import org.junit.jupiter.api.Test;
import org.locationtech.proj4j.CRSFactory;
import org.locationtech.proj4j.CoordinateTransformFactory;
import org.locationtech.proj4j.ProjCoordinate;
import org.rootling.ground.Point;
import org.rootling.ground.calc.LocalPlane.Spot;

/** Metres about a spot on the Earth, against GeographicLib's areas and proj4j's projection. */
class LocalPlaneTest {

    private static List<Spot> ring(Random random, double latitude, double longitude, double metres) {
        List<Spot> ring = new ArrayList<>();
        LocalPlane about = new LocalPlane(latitude, longitude);
        for (int i = 0; i < 7; i++) {
            double turn = 2 * Math.PI * i / 7;
            double r = metres * (0.5 + 0.5 * random.nextDouble());
            ring.add(about.spot(new Point(r * Math.cos(turn), r * Math.sin(turn))));
        }
        return ring;
    }

    @Test
    void theAreaIsTheGeodesicAreaWithinAMillionth() {
        qt().withExamples(200).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Random random = new Random(seed);
            List<Spot> ring = ring(
                    random,
                    -65 + 130 * random.nextDouble(),
                    -179 + 358 * random.nextDouble(),
                    20 + 2000 * random.nextDouble());
            LocalPlane plane = LocalPlane.about(ring);
            double flat = Math.abs(Field.signedArea(plane.points(ring)));
            double geodesic = LocalPlane.geodesicArea(ring);
            assertThat(flat / geodesic).isCloseTo(1, within(1e-6));
        });
    }

    @Test
    void thereAndBackIsTheSameSpot() {
        qt().withExamples(200).forAll(integers().between(1, 1_000_000)).checkAssert(seed -> {
            Random random = new Random(seed);
            LocalPlane plane = new LocalPlane(-60 + 120 * random.nextDouble(), -170 + 340 * random.nextDouble());
            Point p = new Point(5000 * random.nextGaussian(), 5000 * random.nextGaussian());
            assertThat(plane.point(plane.spot(p)).distance(p)).isLessThan(1e-6);
        });
    }

    @Test
    void agreesWithTheTransverseMercatorNearTheOrigin() {
        // within a kilometre of the origin the two projections differ by x^3 / (6 R^2), a few micrometres
        var crs = new CRSFactory();
        var to = new CoordinateTransformFactory()
                .createTransform(
                        crs.createFromParameters("wgs", "+proj=longlat +datum=WGS84"),
                        crs.createFromParameters(
                                "local", "+proj=tmerc +lat_0=50.8 +lon_0=0.1 +k=1 +datum=WGS84 +units=m"));
        LocalPlane plane = new LocalPlane(50.8, 0.1);
        for (Spot s : List.of(new Spot(0.105, 50.803), new Spot(0.09, 50.799), new Spot(0.1, 50.808))) {
            ProjCoordinate out = new ProjCoordinate();
            to.transform(new ProjCoordinate(s.longitude(), s.latitude()), out);
            Point p = plane.point(s);
            assertThat(p.x()).isCloseTo(out.x, within(0.02));
            assertThat(p.y()).isCloseTo(out.y, within(0.02));
        }
    }
}
