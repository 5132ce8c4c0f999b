package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/**
 * A control chart of mites per 100 bees, or of any value, ready to draw.
 *
 * @param kind of limits used
 * @param stage how far the limits can be trusted
 * @param centre line; absent in stage NO_LIMITS
 * @param points in order
 * @param remarks in full sentences
 */
public record ChartReading(
        Kind kind, Stage stage, Optional<Double> centre, List<Point> points, List<String> remarks) {

    /** Points from which Poisson limits are shown at all. */
    public static final int PROVISIONAL_FROM = 8;

    /** Points from which Poisson limits give a verdict. */
    public static final int READY_FROM = 15;

    /** Points from which individuals limits give a verdict: before, one next point in 17 to 45 signals falsely. */
    public static final int INDIVIDUALS_READY_FROM = 20;

    /** With more dispersion than this, Poisson limits cry wolf. */
    public static final double OVERDISPERSED = 1.5;

    private static final String RARE =
            "In a steady run about one point in several hundred lies outside the limits by chance.";

    /** Which limits. */
    public enum Kind {
        /** Exact Poisson limits on counts. */
        POISSON,
        /** Limits from moving ranges, whatever the law. */
        INDIVIDUALS
    }

    /** How far limits can be trusted. */
    public enum Stage {
        NO_LIMITS,
        PROVISIONAL,
        READY
    }

    /**
     * One point; limits are those within which it does not signal, infinite in stage NO_LIMITS.
     *
     * @param signals only ever true in stage READY
     */
    public record Point(double value, double lower, double upper, boolean signals) {}

    public ChartReading {
        points = List.copyOf(points);
        remarks = List.copyOf(remarks);
    }

    /**
     * Mites per 100 bees from samples of any size. Counts more scattered than Poisson are charted as
     * individual rates instead.
     *
     * @param bees above 0
     */
    public static ChartReading ofRates(double[] mites, double[] bees) {
        Optional<RateChart> chart = RateChart.of(mites, bees);
        if (chart.isEmpty()) {
            return bare(Kind.POISSON, new double[0], "at least " + PROVISIONAL_FROM + " samples");
        }
        RateChart rates = chart.get();
        double phi = rates.phi().orElse(1);
        double[] values = rates.points().stream().mapToDouble(RateChart.Point::rate).toArray();
        if (phi > OVERDISPERSED && values.length >= READY_FROM) {
            return ofIndividuals(
                    values,
                    String.format(
                            Locale.ROOT,
                            "Counts scatter %.1f times as much as chance in counting; the limits are taken"
                                    + " from the differences of neighbours instead.",
                            phi));
        }
        if (values.length < PROVISIONAL_FROM) {
            return bare(Kind.POISSON, values, needs(PROVISIONAL_FROM, values.length));
        }
        boolean ready = values.length >= READY_FROM;
        List<Point> points = new ArrayList<>();
        for (RateChart.Point p : rates.points()) {
            points.add(
                    new Point(
                            p.rate(),
                            100 * p.exactLower() / p.bees(),
                            100 * p.exactUpper() / p.bees(),
                            ready && p.signals()));
        }
        return new ChartReading(
                Kind.POISSON,
                ready ? Stage.READY : Stage.PROVISIONAL,
                Optional.of(rates.mean()),
                points,
                ready
                        ? List.of(RARE)
                        : List.of(
                                "Provisional limits, no verdict: "
                                        + needs(READY_FROM, values.length)
                                        + "."));
    }

    /** Any values in order of time. */
    public static ChartReading ofIndividuals(double[] values) {
        return ofIndividuals(values, "");
    }

    private static ChartReading ofIndividuals(double[] values, String why) {
        Optional<IndividualsChart> chart = IndividualsChart.of(values);
        if (chart.isEmpty() || values.length < PROVISIONAL_FROM) {
            return bare(Kind.INDIVIDUALS, values, needs(PROVISIONAL_FROM, values.length));
        }
        IndividualsChart c = chart.get();
        boolean ready = values.length >= INDIVIDUALS_READY_FROM;
        List<Point> points = new ArrayList<>();
        for (double value : values) {
            boolean outside = value < c.lower() || value > c.upper();
            points.add(new Point(value, c.lower(), c.upper(), ready && outside));
        }
        List<String> remarks = new ArrayList<>();
        if (!why.isEmpty()) {
            remarks.add(why);
        }
        remarks.add(
                ready
                        ? RARE
                        : "Provisional limits, no verdict: "
                                + needs(INDIVIDUALS_READY_FROM, values.length)
                                + ".");
        return new ChartReading(
                Kind.INDIVIDUALS,
                ready ? Stage.READY : Stage.PROVISIONAL,
                Optional.of(c.mean()),
                points,
                remarks);
    }

    private static String needs(int wanted, int now) {
        return "at least " + wanted + " points are needed (now " + now + ")";
    }

    private static ChartReading bare(Kind kind, double[] values, String needs) {
        List<Point> points = new ArrayList<>();
        for (double value : values) {
            points.add(new Point(value, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY, false));
        }
        return new ChartReading(
                kind,
                Stage.NO_LIMITS,
                Optional.empty(),
                points,
                List.of("No limits: " + needs + "."));
    }
}
