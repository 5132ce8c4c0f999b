package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.OptionalDouble;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Probabilities;

/**
 * A crossed study: every operator measures every part the same number of times. Analysed by two-way
 * analysis of variance with interaction. A wash uses its bees up, so parts here are kept catches that
 * are counted again, or split samples.
 *
 * @param msPart mean square between parts
 * @param msOperator mean square between operators
 * @param msInteraction mean square of parts × operators
 * @param msError mean square of repeats; empty with one repeat
 * @param interactionF its ratio to {@code msError}; empty with one repeat or identical repeats
 * @param interactionP its tail
 * @param separate standard deviations with the interaction kept apart (one repeat: put into error)
 * @param pooled with the interaction put into error
 */
public record GaugeStudy(
        int parts,
        int operators,
        int repeats,
        double msPart,
        double msOperator,
        double msInteraction,
        OptionalDouble msError,
        OptionalDouble interactionF,
        OptionalDouble interactionP,
        Spread separate,
        Spread pooled) {

    /** An interaction less marked than this is taken for error. */
    public static final double POOL_ABOVE_P = 0.25;

    /**
     * Standard deviations by cause; 0 where the square is estimated negative.
     *
     * @param equipment repeats by one operator (EV)
     * @param interaction of operator and part
     * @param appraiser between operators (AV)
     * @param part between parts (PV)
     */
    public record Spread(double equipment, double interaction, double appraiser, double part) {
        /** All that is not the part: gauge repeatability and reproducibility. */
        public double gauge() {
            return Math.sqrt(
                    equipment * equipment + interaction * interaction + appraiser * appraiser);
        }

        /** The gauge as a per cent of the total spread; 0 if nothing varies at all. */
        public double percentGauge() {
            double total = Math.hypot(gauge(), part);
            return total > 0 ? 100 * gauge() / total : 0;
        }
    }

    /** Whether the interaction is small enough to count as error. */
    public boolean poolsInteraction() {
        return interactionP.isEmpty() || interactionP.getAsDouble() > POOL_ABOVE_P;
    }

    /** The standard deviations to show. */
    public Spread shown() {
        return poolsInteraction() ? pooled : separate;
    }

    /** Approximate 95 % limits of the shown gauge SD, its degrees of freedom by Satterthwaite. */
    public Limits gaugeInterval() {
        double each = (double) parts * repeats;
        double dfOperator = operators - 1.0;
        double dfInteraction = (parts - 1.0) * (operators - 1);
        double dfError = (double) parts * operators * (repeats - 1);
        double ofOperator = msOperator / each;
        double variance;
        double squares;
        if (poolsInteraction()) {
            double error = pooled.equipment() * pooled.equipment() * (1 - 1 / each);
            variance = ofOperator + error;
            squares =
                    ofOperator * ofOperator / dfOperator
                            + error * error / (dfInteraction + dfError);
        } else {
            double ofInteraction = msInteraction / repeats * (1 - 1.0 / parts);
            double error = msError.orElseThrow() * (1 - 1.0 / repeats);
            variance = ofOperator + ofInteraction + error;
            squares =
                    ofOperator * ofOperator / dfOperator
                            + ofInteraction * ofInteraction / dfInteraction
                            + error * error / dfError;
        }
        double df = squares > 0 ? variance * variance / squares : 1;
        Limits around = OneWayPrecision.chiSquareInterval(shown().gauge(), df);
        return around;
    }

    /**
     * Analyses the study.
     *
     * @return nothing unless at least two operators measured the same two or more parts, all equally
     *     often
     */
    public static Optional<GaugeStudy> of(double[] values, String[] part, String[] operator) {
        Map<String, Map<String, List<Double>>> cells = new LinkedHashMap<>();
        Map<String, List<Double>> byOperator = new LinkedHashMap<>();
        for (int i = 0; i < values.length; i++) {
            cells.computeIfAbsent(part[i], p -> new LinkedHashMap<>())
                    .computeIfAbsent(operator[i], o -> new ArrayList<>())
                    .add(values[i]);
            byOperator.computeIfAbsent(operator[i], o -> new ArrayList<>()).add(values[i]);
        }
        int parts = cells.size();
        int operators = byOperator.size();
        if (parts < 2 || operators < 2) {
            return Optional.empty();
        }
        int repeats = cells.values().iterator().next().values().iterator().next().size();
        boolean balanced =
                cells.values().stream()
                        .allMatch(
                                row ->
                                        row.size() == operators
                                                && row.values().stream()
                                                        .allMatch(c -> c.size() == repeats));
        return balanced ? Optional.of(analysed(cells, byOperator, repeats)) : Optional.empty();
    }

    private static GaugeStudy analysed(
            Map<String, Map<String, List<Double>>> cells,
            Map<String, List<Double>> byOperator,
            int repeats) {
        int parts = cells.size();
        int operators = byOperator.size();
        Map<String, Double> operatorMean = new LinkedHashMap<>();
        byOperator.forEach((name, all) -> operatorMean.put(name, mean(all)));
        double grand = operatorMean.values().stream().mapToDouble(m -> m).sum() / operators;
        double ssOperator = 0;
        for (double own : operatorMean.values()) {
            ssOperator += parts * repeats * square(own - grand);
        }
        double ssPart = 0;
        double ssInteraction = 0;
        double ssError = 0;
        for (Map<String, List<Double>> row : cells.values()) {
            double partMean = row.values().stream().mapToDouble(GaugeStudy::mean).sum() / operators;
            ssPart += operators * repeats * square(partMean - grand);
            for (var cell : row.entrySet()) {
                double own = mean(cell.getValue());
                ssInteraction +=
                        repeats * square(own - partMean - operatorMean.get(cell.getKey()) + grand);
                for (double value : cell.getValue()) {
                    ssError += square(value - own);
                }
            }
        }
        return study(parts, operators, repeats, ssPart, ssOperator, ssInteraction, ssError);
    }

    private static GaugeStudy study(
            int parts,
            int operators,
            int repeats,
            double ssPart,
            double ssOperator,
            double ssInteraction,
            double ssError) {
        int dfInteraction = (parts - 1) * (operators - 1);
        int dfError = parts * operators * (repeats - 1);
        double msPart = ssPart / (parts - 1);
        double msOperator = ssOperator / (operators - 1);
        double msInteraction = ssInteraction / dfInteraction;
        double msPooled = (ssInteraction + ssError) / (dfInteraction + dfError);
        OptionalDouble msError =
                dfError > 0 ? OptionalDouble.of(ssError / dfError) : OptionalDouble.empty();
        OptionalDouble f = OptionalDouble.empty();
        OptionalDouble p = OptionalDouble.empty();
        if (dfError > 0 && ssError > 0) {
            f = OptionalDouble.of(msInteraction / msError.getAsDouble());
            p =
                    OptionalDouble.of(
                            Probabilities.fisherAbove(f.getAsDouble(), dfInteraction, dfError));
        }
        double error = msError.orElse(msInteraction);
        return new GaugeStudy(
                parts,
                operators,
                repeats,
                msPart,
                msOperator,
                msInteraction,
                msError,
                f,
                p,
                new Spread(
                        Math.sqrt(error),
                        root((msInteraction - error) / repeats),
                        root((msOperator - msInteraction) / (parts * repeats)),
                        root((msPart - msInteraction) / (operators * repeats))),
                new Spread(
                        Math.sqrt(msPooled),
                        0,
                        root((msOperator - msPooled) / (parts * repeats)),
                        root((msPart - msPooled) / (operators * repeats))));
    }

    private static double root(double variance) {
        return Math.sqrt(Math.max(0, variance));
    }

    private static double square(double value) {
        return value * value;
    }

    private static double mean(List<Double> values) {
        return values.stream().mapToDouble(v -> v).sum() / values.size();
    }
}
