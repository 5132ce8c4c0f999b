package org.evenwash.logger.chart;

import java.util.List;
import java.util.Optional;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.style.markers.SeriesMarkers;

/**
 * Share of the mites that the first wash took off against agitation time: the washes, the fitted
 * curve with its band, and the time to the wanted share with its interval.
 */
public final class FitChart {
    /** @param share of all mites found, 0 to 1 */
    public record Wash(double agitation_s, double share) {}

    /** The curve with its 95 % band at one time; shares 0 to 1. */
    public record Curve(double agitation_s, double share, double lower, double upper) {}

    /**
     * @param share wanted, 0 to 1
     * @param upper_s infinite where the data set no upper limit
     */
    public record Target(double share, double agitation_s, double lower_s, double upper_s) {}

    private FitChart() {}

    /**
     * @param washes at least one
     * @param curve by rising time, at least two points; about a hundred draw smoothly
     * @param target empty where no time could be given
     */
    public static Drawing draw(
            String title, List<Wash> washes, List<Curve> curve, Optional<Target> target) {
        XYChart chart = Style.chart(title, "agitation, s", "mites taken off by the first wash, %");
        double end = curve.get(curve.size() - 1).agitation_s();
        for (Wash wash : washes) {
            end = Math.max(end, wash.agitation_s() * 1.03);
        }
        double[] x = curve.stream().mapToDouble(Curve::agitation_s).toArray();
        Style.band(
                chart,
                "95 % band",
                x,
                curve.stream().mapToDouble(c -> 100 * c.lower()).toArray(),
                curve.stream().mapToDouble(c -> 100 * c.upper()).toArray());
        Style.line(
                chart,
                "fit with 95 % band",
                x,
                curve.stream().mapToDouble(c -> 100 * c.share()).toArray(),
                Ink.ACCENT,
                2.5f,
                false);
        if (target.isPresent()) {
            end = Math.max(end, shownEnd(target.get(), end) * 1.02);
            target(chart, target.get(), end);
        }
        Style.points(
                chart,
                "washes",
                washes.stream().mapToDouble(Wash::agitation_s).toArray(),
                washes.stream().mapToDouble(w -> 100 * w.share()).toArray(),
                Ink.INK,
                SeriesMarkers.CIRCLE);
        Style.axes(chart, 0, end, 0, 105);
        return new Drawing(chart, words(washes.size(), target));
    }

    private static double shownEnd(Target target, double end) {
        return Double.isInfinite(target.upper_s()) ? end : target.upper_s();
    }

    private static void target(XYChart chart, Target target, double end) {
        double level = 100 * target.share();
        double right = Double.isInfinite(target.upper_s()) ? end : target.upper_s();
        Style.line(
                chart,
                "time to " + Scale.text(level) + " % with 95 % interval",
                new double[] {target.lower_s(), right},
                new double[] {level, level},
                Ink.INK,
                4,
                false);
        Style.line(
                        chart,
                        "target",
                        new double[] {target.agitation_s(), target.agitation_s()},
                        new double[] {0, level},
                        Ink.INK,
                        1.5f,
                        true)
                .setShowInLegend(false);
        Style.points(
                        chart,
                        "target time",
                        new double[] {target.agitation_s()},
                        new double[] {level},
                        Ink.ACCENT,
                        SeriesMarkers.DIAMOND)
                .setShowInLegend(false);
    }

    private static String words(int washes, Optional<Target> target) {
        String data = washes + " washes and the fitted curve with its 95 % band.";
        return target.map(
                        t ->
                                data
                                        + " "
                                        + Math.round(100 * t.share())
                                        + " % are off after "
                                        + Math.round(t.agitation_s())
                                        + " s, 95 % interval "
                                        + Math.round(t.lower_s())
                                        + (Double.isInfinite(t.upper_s())
                                                ? " s upwards without limit."
                                                : " to " + Math.round(t.upper_s()) + " s."))
                .orElse(data);
    }
}
