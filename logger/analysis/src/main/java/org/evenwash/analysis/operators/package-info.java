/**
 * Do operators, benches and recounts agree? {@link
 * org.evenwash.analysis.operators.OperatorComparison} for washes, {@link
 * org.evenwash.analysis.operators.RecountStudy} and {@link
 * org.evenwash.analysis.operators.GaugeVerdict} for counting, {@link
 * org.evenwash.analysis.operators.ChartReading} for a run over time; the other records are the plain
 * calculations below them.
 */
package org.evenwash.analysis.operators;
