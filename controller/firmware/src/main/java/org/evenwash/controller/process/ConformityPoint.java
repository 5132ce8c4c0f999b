package org.evenwash.controller.process;

/**
 * One thing a recipe promises, and whether the cycle kept it.
 *
 * @param point what is promised
 * @param evidence the figures, in words
 */
public record ConformityPoint(String point, boolean held, String evidence) {}
