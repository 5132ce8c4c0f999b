package org.evenwash.logger.chart;

import java.util.ArrayList;
import java.util.List;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.XYSeries;
import org.knowm.xchart.style.markers.SeriesMarkers;

/** Operators' recoveries against how many mites they rest on, inside funnel limits. */
public final class FunnelChart {
    /**
     * @param mites all mites the share rests on, above 0
     * @param share 0 to 1
     */
    public record Operator(String name, double mites, double share) {}

    /** Limits for one number of mites, shares 0 to 1. */
    public record Limits(
            double mites, double lower95, double upper95, double lower998, double upper998) {}

    /** More names would hide each other and the points. */
    private static final int MOST_NAMES = 12;

    /** Least length between points of a dashed line, as a share of the picture: two dashes and more. */
    private static final double STRETCH = 0.03;

    private FunnelChart() {}

    /**
     * @param many what is compared, in the plural, such as "operators"
     * @param centre share over all of them, 0 to 1
     * @param limits at least two, by rising number of mites
     */
    public static Drawing draw(
            String title,
            List<Operator> operators,
            String many,
            double centre,
            List<Limits> limits) {
        XYChart chart = Style.chart(title, "mites in all", "taken off by the first wash, %");
        double[] x = limits.stream().mapToDouble(Limits::mites).toArray();
        double[] lower = limits.stream().mapToDouble(l -> 100 * l.lower998()).toArray();
        double[] upper = limits.stream().mapToDouble(l -> 100 * l.upper998()).toArray();
        Style.band(
                chart,
                "95 % limits (shaded)",
                x,
                limits.stream().mapToDouble(l -> 100 * l.lower95()).toArray(),
                limits.stream().mapToDouble(l -> 100 * l.upper95()).toArray());
        chart.getSeries("95 % limits (shaded)").setShowInLegend(true);
        double end = x[x.length - 1];
        double low = floor(operators, lower);
        double width = end * 1.02;
        double height = 1.03 * (100 - low);
        dashed(chart, "99.8 % limits", x, lower, width, height);
        dashed(chart, "upper", x, upper, width, height).setShowInLegend(false);
        Style.line(
                chart,
                "all " + many,
                new double[] {0, end},
                new double[] {100 * centre, 100 * centre},
                Ink.ACCENT,
                2,
                false);
        Style.points(
                chart,
                many,
                operators.stream().mapToDouble(Operator::mites).toArray(),
                operators.stream().mapToDouble(o -> 100 * o.share()).toArray(),
                Ink.INK,
                SeriesMarkers.CIRCLE);
        Style.axes(chart, 0, width, low, low + height);
        if (operators.size() <= MOST_NAMES) {
            label(chart, operators, centre, width, low, height);
        }
        return new Drawing(chart, words(operators, many, centre));
    }

    /**
     * A line of only so many points that each stretch has room for dashes: the chart begins them anew at
     * every point, and short stretches would run together.
     */
    private static XYSeries dashed(
            XYChart chart, String name, double[] x, double[] y, double width, double height) {
        List<Integer> kept = new ArrayList<>(List.of(0));
        double length = 0;
        for (int i = 1; i < x.length; i++) {
            length += Math.hypot((x[i] - x[i - 1]) / width, (y[i] - y[i - 1]) / height);
            if (length >= STRETCH || i == x.length - 1) {
                kept.add(i);
                length = 0;
            }
        }
        return Style.line(
                chart,
                name,
                kept.stream().mapToDouble(i -> x[i]).toArray(),
                kept.stream().mapToDouble(i -> y[i]).toArray(),
                Ink.MUTED,
                1.5f,
                true);
    }

    /** A round share below everything drawn, but never below 0. */
    private static double floor(List<Operator> operators, double[] lower) {
        double low = lower[lower.length - 1];
        for (Operator operator : operators) {
            low = Math.min(low, 100 * operator.share());
        }
        return Math.max(0, Math.floor((low - 10) / 10) * 10);
    }

    /** A name that finds no room is in the table beside the picture. */
    private static void label(
            XYChart chart,
            List<Operator> operators,
            double centre,
            double width,
            double low,
            double height) {
        List<NamePlaces.Place> points =
                operators.stream()
                        .map(
                                operator ->
                                        new NamePlaces.Place(
                                                operator.mites() / width,
                                                (100 * operator.share() - low) / height))
                        .toList();
        NamePlaces places = new NamePlaces(points);
        places.keepOff((100 * centre - low) / height);
        for (int i = 0; i < points.size(); i++) {
            String name = operators.get(i).name();
            places.beside(points.get(i), Style.widthOf(name))
                    .ifPresent(
                            at -> Style.text(chart, name, at.x() * width, low + at.y() * height));
        }
    }

    private static String words(List<Operator> operators, String many, double centre) {
        List<String> each = new ArrayList<>();
        for (Operator operator : operators) {
            each.add(
                    operator.name()
                            + " "
                            + Math.round(100 * operator.share())
                            + " % of "
                            + Math.round(operator.mites()));
        }
        return "All "
                + many
                + " "
                + Math.round(100 * centre)
                + " %. "
                + String.join(", ", each)
                + " mites.";
    }
}
