package org.evenwash.logger.chart;

import java.util.List;
import java.util.stream.IntStream;
import org.evenwash.analysis.Quantity;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.ResultText;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.style.markers.SeriesMarkers;

/** How many bees a sample holds: the counted samples and the 95 % interval of a new one. */
public final class CalibrationChart {
    /** A sample that was weighed and counted. */
    public record Sample(double grams, double bees) {}

    /** Predicted bees at one mass, with 95 % limits for a new sample. */
    public record Band(double grams, double bees, double lower, double upper) {}

    private CalibrationChart() {}

    /**
     * @param band by rising mass, at least two points
     * @param newBees of a new sample of {@code newGrams}
     */
    public static Drawing mass(
            String title,
            List<Sample> samples,
            List<Band> band,
            double newGrams,
            Estimate newBees) {
        XYChart chart = Style.chart(title, "grams", "bees");
        double[] x = band.stream().mapToDouble(Band::grams).toArray();
        Style.band(
                chart,
                "95 % band",
                x,
                band.stream().mapToDouble(Band::lower).toArray(),
                band.stream().mapToDouble(Band::upper).toArray());
        Style.line(
                chart,
                "bees by mass, 95 % band",
                x,
                band.stream().mapToDouble(Band::bees).toArray(),
                Ink.ACCENT,
                2.5f,
                false);
        Style.points(
                chart,
                "counted samples",
                samples.stream().mapToDouble(Sample::grams).toArray(),
                samples.stream().mapToDouble(Sample::bees).toArray(),
                Ink.INK,
                SeriesMarkers.CIRCLE);
        fresh(chart, newGrams, newBees);
        Band last = band.get(band.size() - 1);
        double top = samples.stream().mapToDouble(Sample::bees).max().orElse(0);
        Style.axes(chart, 0, last.grams(), 0, 1.02 * Math.max(top, last.upper()));
        return new Drawing(chart, words(samples.size(), newBees));
    }

    /** @param bees counted at one fill line, at least one sample */
    public static Drawing fillLine(String title, List<Double> bees, Estimate newBees) {
        XYChart chart = Style.chart(title, "counted samples in order, then a new one", "bees");
        int n = bees.size();
        double end = n + 1.8;
        Style.line(
                chart,
                "mean",
                new double[] {0.5, end},
                new double[] {newBees.value(), newBees.value()},
                Ink.ACCENT,
                2,
                false);
        Style.points(
                chart,
                "counted samples",
                IntStream.rangeClosed(1, n).mapToDouble(i -> i).toArray(),
                bees.stream().mapToDouble(b -> b).toArray(),
                Ink.INK,
                SeriesMarkers.CIRCLE);
        fresh(chart, n + 1.0, newBees);
        double low = Math.min(newBees.lower(), bees.stream().mapToDouble(b -> b).min().orElse(0));
        double high = Math.max(newBees.upper(), bees.stream().mapToDouble(b -> b).max().orElse(0));
        double air = Math.max(1, 0.1 * (high - low));
        Style.axes(chart, 0.5, end, Math.max(0, low - air), high + air);
        return new Drawing(chart, words(n, newBees));
    }

    private static void fresh(XYChart chart, double at, Estimate bees) {
        Style.intervals(
                chart,
                "interval of a new sample",
                new double[] {at},
                new double[] {bees.lower()},
                new double[] {bees.upper()},
                Ink.INK);
        Style.points(
                chart,
                "new sample, 95 % interval",
                new double[] {at},
                new double[] {bees.value()},
                Ink.ACCENT,
                SeriesMarkers.DIAMOND);
    }

    private static String words(int samples, Estimate bees) {
        return samples
                + " counted samples. A new sample holds "
                + ResultText.of(bees, Quantity.BEES)
                + ".";
    }
}
