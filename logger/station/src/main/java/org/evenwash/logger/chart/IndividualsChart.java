package org.evenwash.logger.chart;

import java.util.Arrays;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.IntStream;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.style.markers.SeriesMarkers;

/** Single values in their order, with centre and control limits; signals have a shape of their own. */
public final class IndividualsChart {

    /**
     * @param unit what the values are, for the upright axis
     * @param signals places in {@code values}, from 0, that are signals
     * @param provisional whether there are too few values for a verdict; the chart says so
     */
    public record Individuals(
            String title,
            String unit,
            List<Double> values,
            double centre,
            double lower,
            double upper,
            Set<Integer> signals,
            boolean provisional) {
        public Individuals {
            values = List.copyOf(values);
            signals = Set.copyOf(signals);
            if (values.isEmpty()) {
                throw new IllegalArgumentException("an individuals chart needs a value");
            }
        }
    }

    private IndividualsChart() {}

    public static Drawing draw(Individuals data) {
        XYChart chart = Style.chart(data.title(), "in order", data.unit());
        int n = data.values().size();
        double[] x = new double[n];
        double[] y = new double[n];
        double low = data.lower();
        double high = data.upper();
        for (int i = 0; i < n; i++) {
            x[i] = i + 1;
            y[i] = data.values().get(i);
            low = Math.min(low, y[i]);
            high = Math.max(high, y[i]);
        }
        double end = n + 0.5;
        String limits = data.provisional() ? "provisional limits" : "limits";
        level(chart, limits, data.upper(), end, true);
        level(chart, "lower limit", data.lower(), end, true);
        chart.getSeries("lower limit").setShowInLegend(false);
        level(chart, "mean", data.centre(), end, false);
        Style.line(chart, "in order", x, y, Ink.MUTED, 1, false).setShowInLegend(false);
        points(chart, data, false);
        points(chart, data, true);
        // Values that are all alike still need an axis of some length.
        double air = high > low ? (high - low) * 0.08 : Math.max(0.5, Math.abs(high) * 0.05);
        Style.axes(chart, 0.5, end, low - air, high + air);
        return new Drawing(chart, words(data));
    }

    private static void level(XYChart chart, String name, double value, double end, boolean limit) {
        Style.line(
                chart,
                name,
                new double[] {0.5, end},
                new double[] {value, value},
                limit ? Ink.MUTED : Ink.ACCENT,
                limit ? 1.5f : 2,
                limit);
    }

    /** A signal has a triangle and its number instead of a dot. */
    private static void points(XYChart chart, Individuals data, boolean signals) {
        int[] places =
                IntStream.range(0, data.values().size())
                        .filter(i -> data.signals().contains(i) == signals)
                        .toArray();
        if (places.length == 0) {
            return;
        }
        Style.points(
                chart,
                signals ? "signals" : "values",
                Arrays.stream(places).mapToDouble(i -> i + 1).toArray(),
                Arrays.stream(places).mapToDouble(i -> data.values().get(i)).toArray(),
                signals ? Ink.ABNORMAL : Ink.INK,
                signals ? SeriesMarkers.TRIANGLE_UP : SeriesMarkers.CIRCLE);
        if (signals) {
            double aside = 0.016 * data.values().size();
            for (int i : places) {
                String number = String.valueOf(i + 1);
                Style.text(chart, number, i + 1 - aside * number.length(), data.values().get(i));
            }
        }
    }

    private static String words(Individuals data) {
        String signals =
                data.signals().isEmpty()
                        ? "no signal"
                        : "signals at "
                                + new TreeSet<>(data.signals())
                                        .stream().map(i -> String.valueOf(i + 1)).toList();
        return data.values().size()
                + " values, mean "
                + Scale.text(data.centre())
                + ", "
                + (data.provisional() ? "provisional " : "")
                + "limits "
                + Scale.text(data.lower())
                + " to "
                + Scale.text(data.upper())
                + ", "
                + signals
                + ".";
    }
}
