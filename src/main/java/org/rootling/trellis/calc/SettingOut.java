package org.rootling.trellis.calc;

/**
 * Where to start boring so that a leaning post stands where the row needs it.
 *
 * @param startInM where the auger's centre enters the ground: metres from the row's end towards the row (0 = at it)
 * @param fromVerticalDeg tilt of the auger: its head leans away from the row by this much, degrees
 * @param fromGroundDeg the same, measured from level ground, degrees
 * @param boreM length to bore, along the hole, metres
 * @param board the board that shows the angle
 */
public record SettingOut(
        double startInM, double fromVerticalDeg, double fromGroundDeg, double boreM, GuideBoard board) {
    /**
     * @param standAtM the height above the ground at which the post's centre must stand exactly over the row's end; 0
     *     when the post meets the ground there
     */
    public static SettingOut of(EndPost post, double standAtM) {
        return new SettingOut(
                post.outAtM(standAtM),
                post.leanDeg(),
                90 - post.leanDeg(),
                post.buriedM(),
                GuideBoard.forLean(post.leanDeg()));
    }
}
