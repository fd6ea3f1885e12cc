package org.rootling.trellis.calc;

import java.util.List;

/**
 * Forces at one end of a row, newtons. The end post is hinged at the ground line, so that only the tie, strut or brace
 * holds the moment; real ground helps a little, which errs on the safe side.
 *
 * @param pullN pull of all wires
 * @param momentNm their moment about the ground line, newton metres
 * @param braceN force in the anchor tie (tension), the strut (compression) or the diagonal brace wire (tension)
 * @param railN compression in the rail of an H-brace, else 0
 * @param upliftN vertical pull on what holds the moment: the anchor, or, with strut and H-brace, the end post itself
 * @param levelN level part of the brace's force: pull on the anchor, push on the strut's foot, or the rail's push
 * @param footN level force of the ground on the post's foot, outwards positive
 * @param postN compression along the end post, negative when the post is pulled out of the ground
 */
public record EndForces(
        double pullN,
        double momentNm,
        double braceN,
        double railN,
        double upliftN,
        double levelN,
        double footN,
        double postN) {

    /** Moments about the post's foot: brace force times the distance of its line from the foot. */
    public static EndForces anchored(EndPost post, Tie tie, List<WirePull> wires) {
        double pull = pull(wires);
        double moment = moment(wires);
        double force = moment / tie.leverM();
        double uplift = force * tie.heightM() / tie.lengthM();
        double level = force * (tie.anchorOutM() - tie.postOutM()) / tie.lengthM();
        double foot = pull - level;
        double along = foot * Math.sin(post.leanRad()) + uplift * Math.cos(post.leanRad());
        return new EndForces(pull, moment, force, 0, uplift, level, foot, along);
    }

    /**
     * @param strutHeightM where the strut meets the post, above the ground, metres
     * @param strutFootInM how far inwards of the post's foot the strut stands on the ground, metres
     */
    public static EndForces strut(EndPost post, double strutHeightM, double strutFootInM, List<WirePull> wires) {
        double pull = pull(wires);
        double moment = moment(wires);
        double level = strutFootInM + post.outAtM(strutHeightM);
        double length = Math.hypot(level, strutHeightM);
        double force = moment * length / (strutHeightM * strutFootInM);
        double uplift = force * strutHeightM / length;
        double push = force * level / length;
        double foot = pull - push;
        double along = foot * Math.sin(post.leanRad()) - uplift * Math.cos(post.leanRad());
        return new EndForces(pull, moment, force, 0, uplift, push, foot, along);
    }

    /**
     * Upright posts: the rail holds the end post's head, the diagonal from the inner post's head to the end post's foot
     * holds the inner post. So the ground takes the whole pull at the end post's foot, where the diagonal ends, and the
     * inner post is only pressed down, by as much as the end post is lifted.
     *
     * <p>No published example of this assembly with numbers was found (the bulletin that treats it, Giese and Henderson,
     * Farm Fence End and Corner Design, Iowa State College Research Bulletin 364, 1949, could be read only in part). The
     * formulas are checked against the six equations of equilibrium of its two posts, solved by a general library.
     *
     * @param railHeightM height of the rail and of the diagonal's upper end, metres
     * @param spanM distance between the two posts, metres
     */
    public static EndForces hBrace(double railHeightM, double spanM, List<WirePull> wires) {
        double pull = pull(wires);
        double moment = moment(wires);
        double rail = moment / railHeightM;
        double diagonal = rail * Math.hypot(spanM, railHeightM) / spanM;
        double uplift = rail * railHeightM / spanM;
        return new EndForces(pull, moment, diagonal, rail, uplift, rail, pull, -uplift);
    }

    private static double pull(List<WirePull> wires) {
        return wires.stream().mapToDouble(WirePull::pullN).sum();
    }

    private static double moment(List<WirePull> wires) {
        return wires.stream().mapToDouble(WirePull::momentNm).sum();
    }
}
