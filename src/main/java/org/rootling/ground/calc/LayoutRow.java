package org.rootling.ground.calc;

import org.rootling.ground.Point;

/**
 * One stretch of a row, from end post to end post.
 *
 * @param number of the row, from 1 across the block; stretches on one line share it
 * @param segment from 1 along the row
 * @param start end post at the start
 * @param end end post at the end
 * @param lengthM from end post to end post, metres
 * @param vines standing in it
 */
public record LayoutRow(int number, int segment, Point start, Point end, double lengthM, int vines) {}
