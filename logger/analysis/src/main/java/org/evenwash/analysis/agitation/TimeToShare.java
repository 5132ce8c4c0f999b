package org.evenwash.analysis.agitation;

/**
 * Agitation time after which a share of the mites is washed off, with its 95 % profile interval.
 *
 * @param share asked for, between 0 and 1
 * @param seconds infinite if the fitted plateau is not above the share
 * @param lower seconds; 0 if the data set no lower limit, infinite if they rule out every time
 * @param upper seconds; infinite if the data set no upper limit
 */
public record TimeToShare(double share, double seconds, double lower, double upper) {}
