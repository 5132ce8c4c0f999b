package org.evenwash.analysis.operators;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;

/**
 * Do operators recover different shares? Whole washes are dealt out anew among the operators, within
 * equal conditions, and the observed χ² is compared with those of the deals. Dealing washes and not
 * mites keeps whatever makes one wash differ from the next inside the null hypothesis, which holds
 * false alarms at 5 % where χ² on mites gives 20–44 %.
 *
 * <p>Each stratum of conditions has its own expected share, so a recipe that recovers less is not
 * held against whoever used it; with a single stratum the statistic is exactly χ² on operator totals.
 *
 * @param statistic observed Σ over operators of (observed−expected)²/variance
 * @param p (1+deals at least as extreme)/(1+deals)
 * @param deals how many random deals were made
 * @param washes that could be exchanged
 * @param strata of conditions in which at least two operators washed
 */
public record WashPermutation(double statistic, double p, int deals, int washes, int strata) {

    /** Deals for a reported p-value: p = .05 is then known to ±.004. */
    public static final int DEALS = 9_999;

    /** Deals that tie with the observed one must count, whatever the order of summation did. */
    private static final double TIE = 1 - 1e-9;

    /**
     * Runs the test.
     *
     * @param seed of the generator; the same seed gives the same p on every machine, {@link Random}
     *     being specified to the bit
     * @return nothing if no conditions are shared by two operators, or if in all that are, every mite
     *     or none was caught by the first wash
     */
    public static Optional<WashPermutation> test(List<OperatorWash> washes, int deals, long seed) {
        return within(exchangeable(washes), deals, seed);
    }

    /** @param strata as {@link #exchangeable} gives them */
    static Optional<WashPermutation> within(List<List<OperatorWash>> strata, int deals, long seed) {
        if (deals < 1) {
            throw new IllegalArgumentException(deals + " deals: at least 1 is needed");
        }
        Deck deck = new Deck(strata);
        double observed = deck.statistic();
        if (!(observed >= 0)) {
            return Optional.empty();
        }
        Random random = new Random(seed);
        int extreme = 0;
        for (int deal = 0; deal < deals; deal++) {
            deck.shuffle(random);
            if (deck.statistic() >= observed * TIE) {
                extreme++;
            }
        }
        return Optional.of(
                new WashPermutation(
                        observed,
                        (1.0 + extreme) / (1.0 + deals),
                        deals,
                        deck.size(),
                        strata.size()));
    }

    /** Washes with mites by equal conditions, where at least two operators washed under them. */
    static List<List<OperatorWash>> exchangeable(List<OperatorWash> washes) {
        Map<OperatorWash.Conditions, List<OperatorWash>> strata = new LinkedHashMap<>();
        for (OperatorWash wash : washes) {
            if (wash.mites() > 0) {
                strata.computeIfAbsent(wash.conditions(), c -> new ArrayList<>()).add(wash);
            }
        }
        return strata.values().stream()
                .filter(s -> s.stream().map(OperatorWash::operator).distinct().count() > 1)
                .toList();
    }

    /** The washes as cards: each with its residual and variance, dealt to a fixed row of operators. */
    private static final class Deck {
        private final int[] operator;
        private final double[] residual;
        private final double[] variance;
        private final int[] stratumEnd;
        private final double[] residualSum;
        private final double[] varianceSum;

        Deck(List<List<OperatorWash>> strata) {
            int size = strata.stream().mapToInt(List::size).sum();
            operator = new int[size];
            residual = new double[size];
            variance = new double[size];
            stratumEnd = new int[strata.size()];
            Map<String, Integer> index = new HashMap<>();
            int i = 0;
            for (int s = 0; s < strata.size(); s++) {
                double hits = 0;
                double mites = 0;
                for (OperatorWash wash : strata.get(s)) {
                    hits += wash.firstWashMites();
                    mites += wash.mites();
                }
                double p = hits / mites;
                for (OperatorWash wash : strata.get(s)) {
                    int next = index.size();
                    operator[i] = index.computeIfAbsent(wash.operator(), name -> next);
                    // An exact 0 where all or none were caught, so that nothing is divided by
                    // rounding.
                    boolean flat = hits == 0 || hits == mites;
                    residual[i] = flat ? 0 : wash.firstWashMites() - p * wash.mites();
                    variance[i] = flat ? 0 : wash.mites() * p * (1 - p);
                    i++;
                }
                stratumEnd[s] = i;
            }
            residualSum = new double[index.size()];
            varianceSum = new double[index.size()];
        }

        int size() {
            return operator.length;
        }

        void shuffle(Random random) {
            int start = 0;
            for (int end : stratumEnd) {
                for (int i = end - 1; i > start; i--) {
                    swap(i, start + random.nextInt(i - start + 1));
                }
                start = end;
            }
        }

        private void swap(int i, int j) {
            double r = residual[i];
            residual[i] = residual[j];
            residual[j] = r;
            double v = variance[i];
            variance[i] = variance[j];
            variance[j] = v;
        }

        /** NaN when no operator has any variance. */
        double statistic() {
            Arrays.fill(residualSum, 0);
            Arrays.fill(varianceSum, 0);
            for (int i = 0; i < operator.length; i++) {
                residualSum[operator[i]] += residual[i];
                varianceSum[operator[i]] += variance[i];
            }
            double sum = 0;
            double variances = 0;
            for (int j = 0; j < residualSum.length; j++) {
                variances += varianceSum[j];
                if (varianceSum[j] > 0) {
                    sum += residualSum[j] * residualSum[j] / varianceSum[j];
                }
            }
            return variances > 0 ? sum : Double.NaN;
        }
    }
}
