package org.evenwash.logger.chart;

import java.util.List;
import java.util.Optional;
import org.knowm.xchart.XYChart;
import org.knowm.xchart.style.markers.SeriesMarkers;

/** Flash point against strength: the model, the cautious line to act on, and where a liquid stands. */
public final class FlashPointChart {
    /** One strength of the curve, %vol and °C. */
    public record Point(double percentVol, double model_C, double cautious_C) {}

    /**
     * @param name may be empty
     * @param cautious_C NaN where the model has no flash point; then it is not drawn
     */
    public record Mark(String name, double percentVol, double cautious_C) {}

    private FlashPointChart() {}

    /**
     * @param curve by rising strength, at least two points
     * @param day_C temperature to compare with, drawn as a level line
     */
    public static Drawing draw(
            String title, List<Point> curve, List<Mark> marks, Optional<Double> day_C) {
        XYChart chart = Style.chart(title, "strength, %vol at 20 °C", "°C");
        double[] x = curve.stream().mapToDouble(Point::percentVol).toArray();
        double[] model = curve.stream().mapToDouble(Point::model_C).toArray();
        double[] cautious = curve.stream().mapToDouble(Point::cautious_C).toArray();
        Style.line(chart, "model", x, model, Ink.MUTED, 1.5f, true);
        Style.line(chart, "cautious flash point, to act on", x, cautious, Ink.ACCENT, 2.5f, false);
        day_C.ifPresent(
                day ->
                        Style.line(
                                chart,
                                "expected temperature",
                                new double[] {0, 100},
                                new double[] {day, day},
                                Ink.INK,
                                1.5f,
                                true));
        List<Mark> drawn = marks.stream().filter(m -> !Double.isNaN(m.cautious_C())).toList();
        double low = Math.min(0, cautious[cautious.length - 1]);
        double top = Math.min(80, Math.max(60, model[0]));
        if (!drawn.isEmpty()) {
            Style.points(
                    chart,
                    "this spirit",
                    drawn.stream().mapToDouble(Mark::percentVol).toArray(),
                    drawn.stream().mapToDouble(Mark::cautious_C).toArray(),
                    Ink.INK,
                    SeriesMarkers.DIAMOND);
            double down = 0.06 * (top - low);
            for (Mark mark : drawn.stream().filter(m -> !m.name().isEmpty()).toList()) {
                double half = 50 * Style.widthOf(mark.name());
                double at = Math.max(half, Math.min(100 - half, mark.percentVol()));
                // The model's line runs above, so names go below.
                Style.text(chart, mark.name(), at, mark.cautious_C() - down);
            }
        }
        Style.axes(chart, 0, 100, low, top);
        return new Drawing(chart, words(drawn, day_C));
    }

    private static String words(List<Mark> marks, Optional<Double> day_C) {
        StringBuilder words = new StringBuilder("Flash point against strength.");
        for (Mark mark : marks) {
            words.append(' ')
                    .append(mark.name())
                    .append(mark.name().isEmpty() ? "" : ": ")
                    .append(Math.round(mark.percentVol()))
                    .append(" %vol, cautious flash point ")
                    .append(Math.floor(mark.cautious_C()))
                    .append(" °C.");
        }
        day_C.ifPresent(day -> words.append(" Expected temperature ").append(day).append(" °C."));
        return words.toString();
    }
}
