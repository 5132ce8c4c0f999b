package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Probabilities;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * Repeatability and reproducibility from repeated measurements by several operators, one-way (ISO
 * 5725-2). Several objects are analysed one by one and their sums of squares pooled.
 *
 * @param mean of all measurements
 * @param msBetween mean square between operators
 * @param msWithin mean square within operators
 * @param dfBetween its degrees of freedom
 * @param dfWithin likewise
 * @param f ratio of the two; infinite if nothing varies within
 * @param p its tail
 * @param nBar effective number of repeats per operator
 * @param repeatability SD s_r of one operator's repeats
 * @param betweenOperators SD s_L between operators, 0 where its square is estimated negative
 * @param reproducibility SD s_R of repeats by different operators
 * @param repeatabilityLimit two repeats of one operator differ by more in 5 % of cases
 * @param reproducibilityLimit two operators' results differ by more in 5 % of cases
 */
public record OneWayPrecision(
        double mean,
        double msBetween,
        double msWithin,
        int dfBetween,
        int dfWithin,
        double f,
        double p,
        double nBar,
        double repeatability,
        double betweenOperators,
        double reproducibility,
        double repeatabilityLimit,
        double reproducibilityLimit) {

    /** A measurement: of which object, by whom, how much. */
    public record Measurement(String object, String operator, double value) {}

    /** One object; nothing without two operators and one repeat. */
    public static Optional<OneWayPrecision> of(double[] values, String[] operators) {
        List<Measurement> measurements = new ArrayList<>();
        for (int i = 0; i < values.length; i++) {
            measurements.add(new Measurement("", operators[i], values[i]));
        }
        return of(measurements);
    }

    /** Several objects pooled; nothing unless operators and repeats both leave degrees of freedom. */
    public static Optional<OneWayPrecision> of(List<Measurement> measurements) {
        Map<String, Map<String, List<Double>>> objects = new LinkedHashMap<>();
        for (Measurement m : measurements) {
            objects.computeIfAbsent(m.object(), o -> new LinkedHashMap<>())
                    .computeIfAbsent(m.operator(), o -> new ArrayList<>())
                    .add(m.value());
        }
        Squares pooled = new Squares();
        objects.values().forEach(pooled::add);
        return pooled.dfBetween < 1 || pooled.dfWithin < 1
                ? Optional.empty()
                : Optional.of(pooled.precision(measurements.size()));
    }

    /** 95 % limits of the true repeatability SD, from χ². */
    public Limits repeatabilityInterval() {
        return chiSquareInterval(repeatability, dfWithin);
    }

    /** Approximate 95 % limits of the reproducibility SD, its degrees of freedom by Satterthwaite. */
    public Limits reproducibilityInterval() {
        double between = msBetween / nBar;
        double within = (1 - 1 / nBar) * msWithin;
        double df =
                betweenOperators > 0
                        ? (between + within)
                                * (between + within)
                                / (between * between / dfBetween + within * within / dfWithin)
                        : dfWithin;
        return chiSquareInterval(reproducibility, df);
    }

    static Limits chiSquareInterval(double sd, double df) {
        return new Limits(
                sd * Math.sqrt(df / Quantiles.chiSquare(1 - Level.TAIL, df)),
                sd * Math.sqrt(df / Quantiles.chiSquare(Level.TAIL, df)));
    }

    private static double mean(List<Double> values) {
        return values.stream().mapToDouble(v -> v).sum() / values.size();
    }

    private static final class Squares {
        private double sum;
        private double between;
        private double within;
        private int dfBetween;
        private int dfWithin;
        private double spread;

        void add(Map<String, List<Double>> operators) {
            double total = 0;
            double n = 0;
            double squaredSizes = 0;
            for (List<Double> repeats : operators.values()) {
                total += repeats.stream().mapToDouble(v -> v).sum();
                n += repeats.size();
                squaredSizes += (double) repeats.size() * repeats.size();
            }
            double grand = total / n;
            for (List<Double> repeats : operators.values()) {
                double own = mean(repeats);
                between += repeats.size() * (own - grand) * (own - grand);
                for (double value : repeats) {
                    within += (value - own) * (value - own);
                }
                dfWithin += repeats.size() - 1;
            }
            sum += total;
            dfBetween += operators.size() - 1;
            spread += n - squaredSizes / n;
        }

        OneWayPrecision precision(int count) {
            double msBetween = between / dfBetween;
            double msWithin = within / dfWithin;
            double nBar = spread / dfBetween;
            double f =
                    msWithin > 0
                            ? msBetween / msWithin
                            : msBetween > 0 ? Double.POSITIVE_INFINITY : 0;
            double operators = Math.max(0, (msBetween - msWithin) / nBar);
            double r = Math.sqrt(msWithin);
            double bigR = Math.sqrt(msWithin + operators);
            double two = Level.Z * Math.sqrt(2);
            return new OneWayPrecision(
                    sum / count,
                    msBetween,
                    msWithin,
                    dfBetween,
                    dfWithin,
                    f,
                    Double.isInfinite(f) ? 0 : Probabilities.fisherAbove(f, dfBetween, dfWithin),
                    nBar,
                    r,
                    Math.sqrt(operators),
                    bigR,
                    two * r,
                    two * bigR);
        }
    }
}
