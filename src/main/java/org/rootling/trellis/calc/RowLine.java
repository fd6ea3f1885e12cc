package org.rootling.trellis.calc;

/**
 * One stretch of a row, from end post to end post.
 *
 * @param lengthM end post to end post, metres
 * @param vines places in it
 * @param vineSpacingM place to place, metres
 * @param endGapM end post to first place, metres
 */
public record RowLine(double lengthM, int vines, double vineSpacingM, double endGapM) {}
