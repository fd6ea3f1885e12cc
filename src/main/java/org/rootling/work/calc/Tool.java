package org.rootling.work.calc;

/** A tool of which {@code count} exist; each can serve one job at a time. */
public record Tool(String id, int count) {}
