package org.rootling.ground.web;

import org.rootling.support.TestBrowser;
import org.rootling.support.TestBrowser.Answer;

/** Forms of the ground as the tests here fill them in. */
final class GroundForms {
    /** 60 by 40 m. */
    static final String OBLONG = "0 0\n60 0\n60 40\n0 40";

    private GroundForms() {}

    /** A block of that oblong. */
    static Answer oblong(TestBrowser lead, String code) {
        return lead.sendAndFollow("/blocks", "code", code, "name", "Oblong", "boundary", OBLONG);
    }

    /** Rows 2.2 m apart with vines every 1.2 m, 6 m of headland and 2 m of side margin. */
    static Answer layOut(TestBrowser lead, String code, int bearingDeg, int version) {
        return lead.sendAndFollow(
                "/blocks/" + code + "/layout",
                "rowSpacingM",
                "2.2",
                "vineSpacingM",
                "1.2",
                "headlandM",
                "6",
                "sideMarginM",
                "2",
                "minVinesPerRow",
                "3",
                "rowBearingDeg",
                String.valueOf(bearingDeg),
                "version",
                String.valueOf(version));
    }

    /** A field of 60 m by 56 m or so with a place on Earth, from a file. */
    static Answer imported(TestBrowser lead, String code) {
        byte[] field =
                ("{\"type\":\"Polygon\",\"coordinates\":[[[0.1,50.8],[0.1009,50.8],[0.1009,50.8005],[0.1,50.8005],[0.1,50.8]]]}")
                        .getBytes(java.nio.charset.StandardCharsets.UTF_8);
        return lead.upload("/blocks/import", "file", "field.geojson", field, "code", code, "name", "Imported");
    }
}
