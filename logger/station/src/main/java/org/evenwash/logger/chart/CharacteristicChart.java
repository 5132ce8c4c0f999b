package org.evenwash.logger.chart;

import java.util.List;
import org.knowm.xchart.XYChart;

/**
 * Operating characteristic: how likely a wash reads below the threshold, against the true
 * infestation. A curve for each sample size or way of reading.
 */
public final class CharacteristicChart {
    /** @param chance that the wash reads below, 0 to 1 */
    public record Step(double truePer100Bees, double chance) {}

    public record Curve(String name, List<Step> steps) {
        public Curve {
            steps = List.copyOf(steps);
        }
    }

    private CharacteristicChart() {}

    /**
     * @param curves one to four; told apart by weight and dashes as well as colour
     * @param thresholdPer100 mites per 100 bees
     */
    public static Drawing draw(String title, List<Curve> curves, double thresholdPer100) {
        if (curves.isEmpty() || curves.size() > 4) {
            throw new IllegalArgumentException("one to four curves, not " + curves.size());
        }
        XYChart chart = Style.chart(title, "true mites per 100 bees", "chance to read below, %");
        Ink[] inks = {Ink.ACCENT, Ink.INK, Ink.ACCENT, Ink.MUTED};
        double end = 0;
        for (int i = 0; i < curves.size(); i++) {
            List<Step> steps = curves.get(i).steps();
            Style.line(
                    chart,
                    curves.get(i).name(),
                    steps.stream().mapToDouble(Step::truePer100Bees).toArray(),
                    steps.stream().mapToDouble(s -> 100 * s.chance()).toArray(),
                    inks[i],
                    i < 2 ? 2.5f : 2f,
                    i >= 2);
            end = Math.max(end, steps.get(steps.size() - 1).truePer100Bees());
        }
        Style.line(
                chart,
                "threshold " + Scale.text(thresholdPer100),
                new double[] {thresholdPer100, thresholdPer100},
                new double[] {0, 100},
                Ink.MUTED,
                1.5f,
                true);
        Style.axes(chart, 0, end, 0, 105);
        return new Drawing(chart, words(curves, thresholdPer100));
    }

    private static String words(List<Curve> curves, double thresholdPer100) {
        StringBuilder words =
                new StringBuilder("Chance that a wash reads below ")
                        .append(Scale.text(thresholdPer100))
                        .append(" mites per 100 bees.");
        for (Curve curve : curves) {
            Step nearest = curve.steps().get(0);
            for (Step step : curve.steps()) {
                boolean closer =
                        Math.abs(step.truePer100Bees() - thresholdPer100)
                                < Math.abs(nearest.truePer100Bees() - thresholdPer100);
                nearest = closer ? step : nearest;
            }
            words.append(' ')
                    .append(curve.name())
                    .append(": ")
                    .append(Math.round(100 * nearest.chance()))
                    .append(" % at the threshold.");
        }
        return words.toString();
    }
}
