package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.List;

/** A funnel plot as plain values: each operator's share, and the limits over the number of mites. */
public final class Funnel {

    private Funnel() {}

    /** Where an operator's share lies. */
    public enum Place {
        /** Within what chance gives 19 times in 20. */
        INSIDE,
        /** Outside that, where chance puts one operator in twenty. */
        OUTSIDE_INNER,
        /** Where chance puts one operator in five hundred. */
        OUTSIDE_OUTER
    }

    /**
     * One operator.
     *
     * @param share of the mites that the first washes caught
     * @param expected share under the conditions of these washes, around which the limits lie
     * @param alike the share that lies as far out in the funnel around the pooled share, to draw;
     *     the share itself where all washed under one condition
     */
    public record Point(
            String operator,
            int washes,
            double mites,
            double share,
            double expected,
            double alike,
            FunnelLimits inner,
            FunnelLimits outer,
            Place place) {}

    /** The limits at one number of mites. */
    public record Line(double mites, FunnelLimits inner, FunnelLimits outer) {}

    /** Every operator against the limits around what was expected of the same conditions. */
    static List<Point> points(OperatorTotals totals, Expected expected) {
        double pooled = totals.pooled();
        List<Point> points = new ArrayList<>();
        for (OperatorTotals.Total total : totals.list()) {
            double own = expected.share(total.operator());
            double effective = total.mites() / expected.phi();
            Line line = line(total.mites(), own, expected.phi());
            points.add(
                    new Point(
                            total.operator(),
                            total.washes(),
                            total.mites(),
                            total.share(),
                            own,
                            FunnelLimits.asFarOut(total.share(), effective, own, pooled),
                            line.inner(),
                            line.outer(),
                            place(total.share(), line)));
        }
        return points;
    }

    /** The limits at each of the given numbers of mites, to draw. */
    public static List<Line> lines(double pooled, double phi, double[] mites) {
        List<Line> lines = new ArrayList<>();
        for (double n : mites) {
            lines.add(line(n, pooled, phi));
        }
        return lines;
    }

    private static Line line(double mites, double pooled, double phi) {
        double effective = mites / phi;
        return new Line(
                mites,
                FunnelLimits.at(effective, pooled, FunnelLimits.INNER),
                FunnelLimits.at(effective, pooled, FunnelLimits.OUTER));
    }

    private static Place place(double share, Line line) {
        if (share < line.outer().lower() || share > line.outer().upper()) {
            return Place.OUTSIDE_OUTER;
        }
        return share < line.inner().lower() || share > line.inner().upper()
                ? Place.OUTSIDE_INNER
                : Place.INSIDE;
    }
}
