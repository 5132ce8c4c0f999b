/**
 * A colony over time: growth, doubling and the week of a threshold, each stretch between two breaks
 * by itself. {@link org.evenwash.analysis.trend.ColonyTrend} decides what may be said, {@link
 * org.evenwash.analysis.trend.GrowthFit} calculates.
 */
package org.evenwash.analysis.trend;
