/**
 * Statistics of a young stand: shares with their uncertainty, comparisons, survival over time, where the dead ones
 * stand, how many vines to look at and how many to reorder. Plain Java on counts, so that a million vines cost no more
 * than the table of their sums.
 */
@org.jspecify.annotations.NullMarked
package org.rootling.review.calc;
