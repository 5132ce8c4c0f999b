package org.evenwash.analysis.operators;

import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;

/**
 * What each operator's washes were expected to bring off, given the conditions they were made under:
 * in every stratum the share of all who washed there. A recipe that brings off less is then not held
 * against whoever used it. With a single stratum everything here is what totals give.
 */
final class Expected {

    /** Index of each operator, in order of first appearance. */
    private final Map<String, Integer> index = new LinkedHashMap<>();

    /** Mites brought off, expected, their binomial variance, and all mites, by operator. */
    private final double[] caught;

    private final double[] expected;
    private final double[] variance;
    private final double[] mites;

    /** Mites of the strata that can tell operators apart, by operator. */
    private final double[] tellingMites;

    private final double[][] noise;
    private final double[][] effect;
    private final double phi;

    /** @param strata of exchangeable washes */
    Expected(List<List<OperatorWash>> strata) {
        strata.forEach(s -> s.forEach(w -> index.putIfAbsent(w.operator(), index.size())));
        int size = index.size();
        caught = new double[size];
        expected = new double[size];
        variance = new double[size];
        mites = new double[size];
        tellingMites = new double[size];
        noise = new double[size][size];
        effect = new double[size][size];
        strata.forEach(this::add);
        phi = phiWithin(strata);
    }

    private static double share(List<OperatorWash> stratum) {
        double caught = stratum.stream().mapToDouble(OperatorWash::firstWashMites).sum();
        return caught / stratum.stream().mapToDouble(OperatorWash::mites).sum();
    }

    /** Where all or none came off, no operator can be told from another. */
    private static boolean tells(double share) {
        return share > 0 && share < 1;
    }

    private void add(List<OperatorWash> stratum) {
        double p = share(stratum);
        double[] own = new double[index.size()];
        double all = 0;
        for (OperatorWash wash : stratum) {
            int j = index.get(wash.operator());
            own[j] += wash.mites();
            all += wash.mites();
            caught[j] += wash.firstWashMites();
            expected[j] += p * wash.mites();
            mites[j] += wash.mites();
            variance[j] += p * (1 - p) * wash.mites();
        }
        if (!tells(p)) {
            return;
        }
        for (int j = 0; j < own.length; j++) {
            tellingMites[j] += own[j];
            for (int k = 0; k < own.length && own[j] > 0; k++) {
                double one = (j == k ? own[j] : 0) - own[j] * own[k] / all;
                effect[j][k] += one;
                noise[j][k] += p * (1 - p) * one;
            }
        }
    }

    /**
     * How much more than binomial the washes of one operator differ among themselves: max(1,
     * Σ(m1−p_op·N)²/(N·p(1−p))/df), where p is the stratum's share and p_op the same with what the
     * operator's washes gave beyond it. Each operator costs a degree of freedom, and each stratum
     * beyond the first. Only strata that tell have a part in any of it: mites that all came off anyway
     * would make an operator's own share look like the stratum's.
     */
    private double phiWithin(List<List<OperatorWash>> strata) {
        double sum = 0;
        int washes = 0;
        int telling = 0;
        for (List<OperatorWash> stratum : strata) {
            double p = share(stratum);
            if (!tells(p)) {
                continue;
            }
            telling++;
            for (OperatorWash wash : stratum) {
                int j = index.get(wash.operator());
                double residual =
                        wash.firstWashMites() - wash.mites() * (p + residual(j) / tellingMites[j]);
                sum += residual * residual / (wash.mites() * p * (1 - p));
                washes++;
            }
        }
        int operators = (int) Arrays.stream(tellingMites).filter(own -> own > 0).count();
        int df = washes - operators - (telling - 1);
        return df < 1 ? 1 : Math.max(1, sum / df);
    }

    int operators() {
        return index.size();
    }

    /** Mites brought off less those expected. */
    double residual(int operator) {
        return caught[operator] - expected[operator];
    }

    /** Share of this operator's mites that was expected. */
    double share(String operator) {
        int j = index.get(operator);
        return expected[j] / mites[j];
    }

    /** Binomial variance of what one operator's washes bring off; 0 where nothing can be told. */
    double variance(int operator) {
        return variance[operator];
    }

    /** Covariance of two residuals by chance in counting, the shares being those of the same washes. */
    double noise(int j, int k) {
        return noise[j][k];
    }

    /** How many mites more one residual has for each by which another operator's share is higher. */
    double effect(int j, int k) {
        return effect[j][k];
    }

    /** How much more than by chance in counting the washes of one operator scatter, at least 1. */
    double phi() {
        return phi;
    }
}
