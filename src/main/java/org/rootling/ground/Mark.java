package org.rootling.ground;

/**
 * How one place is drawn: always colour and shape and word.
 *
 * @param cssClass colour, a class of the plan's language ({@code empty}, {@code planted}, {@code growing} …)
 * @param shape {@code ring}, {@code dot}, {@code square}, {@code triangle}, {@code cross} or {@code dash}
 * @param word for the legend and for whoever cannot see the mark
 */
public record Mark(String cssClass, String shape, String word) {}
