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
     */
    public record Point(
            String operator,
            int washes,
            double mites,
            double share,
            FunnelLimits inner,
            FunnelLimits outer,
            Place place) {}

    /** The limits at one number of mites. */
    public record Line(double mites, FunnelLimits inner, FunnelLimits outer) {}

    /** Every operator against the limits around the pooled share, mites divided by {@code phi}. */
    public static List<Point> points(OperatorTotals totals, double phi) {
        double pooled = totals.pooled();
        List<Point> points = new ArrayList<>();
        for (OperatorTotals.Total total : totals.list()) {
            Line line = line(total.mites(), pooled, phi);
            points.add(
                    new Point(
                            total.operator(),
                            total.washes(),
                            total.mites(),
                            total.share(),
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
