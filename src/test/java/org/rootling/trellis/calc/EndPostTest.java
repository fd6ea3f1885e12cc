package org.rootling.trellis.calc;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;
import static org.quicktheories.QuickTheory.qt;
import static org.quicktheories.generators.SourceDSL.doubles;

import org.junit.jupiter.api.Test;

class EndPostTest {
    private final EndPost post = new EndPost(2.4, 20, 0.8);

    @Test
    void leaningPostFollowsSineAndCosine() {
        // cos 20 = 0.9396926, sin 20 = 0.3420201 (tables of trigonometric functions)
        assertThat(post.topHeightM()).isCloseTo(1.6 * 0.9396926, within(1e-6));
        assertThat(post.setBackM()).isCloseTo(1.6 * 0.3420201, within(1e-6));
        assertThat(post.depthM()).isCloseTo(0.8 * 0.9396926, within(1e-6));
        assertThat(post.buttInM()).isCloseTo(0.8 * 0.3420201, within(1e-6));
    }

    @Test
    void publishedPostStandsAboutSixFeetHighAndThreeToFourFeetDeep() {
        // Domoto, Iowa State Univ. 2002: 10 ft post, 3 to 4 ft deep, 60 degrees with the ground, about 6 ft high.
        double foot = 0.3048;
        EndPost published = new EndPost(10 * foot, 30, 3.5 * foot);
        assertThat(published.topHeightM() / foot).isBetween(5.3, 6.2);
        assertThat(published.depthM() / foot).isBetween(3.0, 4.0);
        assertThat(SettingOut.of(published, 0).fromGroundDeg()).isEqualTo(60);
    }

    @Test
    void uprightPostHasNoSetBack() {
        EndPost upright = new EndPost(2.5, 0, 0.7);
        assertThat(upright.setBackM()).isZero();
        assertThat(upright.topHeightM()).isEqualTo(1.8);
        assertThat(GuideBoard.forLean(0)).isEqualTo(new GuideBoard(0, 50));
    }

    @Test
    void topFootAndButtLieOnOneStraightLineAsLongAsThePost() {
        qt().forAll(
                        doubles().between(0.6, 6.0),
                        doubles().between(0, 45),
                        doubles().between(0.05, 0.95))
                .check((length, lean, share) -> {
                    EndPost any = new EndPost(length, lean, share * length);
                    double wide = any.setBackM() + any.buttInM();
                    double high = any.topHeightM() + any.depthM();
                    return Math.abs(Math.hypot(wide, high) - length) < 1e-9
                            && Math.abs(wide * any.topHeightM() - high * any.setBackM()) < 1e-9
                            && Math.abs(any.outAtM(any.topHeightM()) - any.setBackM()) < 1e-9
                            && Math.abs(any.alongM(any.topHeightM()) - any.aboveM()) < 1e-9;
                });
    }

    @Test
    void guideBoardShowsTheLeanWithinAQuarterDegree() {
        qt().forAll(doubles().between(0, 45)).check(lean -> {
            GuideBoard board = GuideBoard.forLean(lean);
            return board.errorDeg(lean) < 0.25 && board.riseCm() >= 50 && board.riseCm() <= 120;
        });
    }

    @Test
    void threeFourFiveBoardShowsItsAngle() {
        // 3-4-5 triangle: atan(3/4) = 36.87 degrees
        assertThat(new GuideBoard(45, 60).leanDeg()).isCloseTo(36.8699, within(1e-4));
    }

    @Test
    void augerStartsInwardsWhenThePostMustStandOverTheRowEndAtAHeight() {
        SettingOut out = SettingOut.of(post, 0.8);
        assertThat(out.startInM()).isCloseTo(0.8 * Math.tan(Math.toRadians(20)), within(1e-9));
        assertThat(out.boreM()).isEqualTo(0.8);
        assertThat(SettingOut.of(post, 0).startInM()).isZero();
    }

    @Test
    void impossiblePostsAreRefused() {
        assertThatThrownBy(() -> new EndPost(2, 46, 0.5)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new EndPost(2, 20, 2)).isInstanceOf(IllegalArgumentException.class);
        assertThatThrownBy(() -> new EndPost(Double.NaN, 20, 1)).isInstanceOf(IllegalArgumentException.class);
    }
}
