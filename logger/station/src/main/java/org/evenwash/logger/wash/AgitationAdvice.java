package org.evenwash.logger.wash;

import java.util.List;
import java.util.OptionalInt;
import java.util.stream.IntStream;
import org.evenwash.analysis.agitation.AgitationPlan;
import org.evenwash.analysis.agitation.ReleaseModel;

/**
 * A plan for washes that will tell the agitation time.
 *
 * @param times_s to try, as many washes at each
 * @param rows what some numbers of washes would give
 * @param even washes for the wanted half-width if washes differ by chance alone; empty beyond 10,000
 * @param uneven the same if mites of one wash are alike by a correlation of 0.05
 * @param advice in full sentences
 */
public record AgitationAdvice(
        List<Double> times_s,
        List<Row> rows,
        OptionalInt even,
        OptionalInt uneven,
        List<String> advice) {
    /** A cautious guess, as {@link AgitationPlan} says. */
    private static final double ALIKE = 0.05;

    private static final int[] WASHES = {12, 18, 24, 36, 48, 96};

    /** Half-widths of the interval, per cent of the time. */
    public record Row(int washes, double even_percent, double uneven_percent) {}

    /**
     * @param guess_s of the time to 95 %
     * @param mitesPerWash both washes together, 1 or more
     * @param halfWidth wanted, as a fraction of the time
     */
    public static AgitationAdvice of(double guess_s, double mitesPerWash, double halfWidth) {
        AgitationPlan even = plan(mitesPerWash, 0);
        AgitationPlan uneven = plan(mitesPerWash, ALIKE);
        return new AgitationAdvice(
                AgitationPlan.timesAround(guess_s),
                IntStream.of(WASHES)
                        .mapToObj(
                                washes ->
                                        new Row(
                                                washes,
                                                100 * even.halfWidth(washes),
                                                100 * uneven.halfWidth(washes)))
                        .toList(),
                even.washesFor(halfWidth),
                uneven.washesFor(halfWidth),
                uneven.advice(guess_s));
    }

    private static AgitationPlan plan(double mitesPerWash, double rho) {
        return new AgitationPlan(
                ReleaseModel.WEIBULL, AgitationPlan.RECOMMENDED_TIMES, mitesPerWash, rho);
    }
}
