package org.evenwash.analysis.agitation;

import java.util.List;
import java.util.SortedMap;
import java.util.TreeMap;

/**
 * Washes with equal times added up. All the likelihoods of this package depend on the data only
 * through these sums, so thousands of washes at a handful of times cost no more than a handful.
 */
public final class PooledTimes {

    final double[] seconds;
    final double[] logSeconds;

    /** Agitation of the second wash; infinite where that was exhaustive. */
    final double[] secondSeconds;

    final double[] first;
    final double[] second;
    final double firstTotal;
    final double secondTotal;

    private record Times(double first, double second) implements Comparable<Times> {
        @Override
        public int compareTo(Times other) {
            int byFirst = Double.compare(first, other.first);
            return byFirst != 0 ? byFirst : Double.compare(second, other.second);
        }
    }

    private PooledTimes(SortedMap<Times, double[]> sums) {
        int size = sums.size();
        seconds = new double[size];
        logSeconds = new double[size];
        secondSeconds = new double[size];
        first = new double[size];
        second = new double[size];
        double firstSum = 0;
        double secondSum = 0;
        int i = 0;
        for (var entry : sums.entrySet()) {
            seconds[i] = entry.getKey().first();
            logSeconds[i] = Math.log(seconds[i]);
            secondSeconds[i] = entry.getKey().second();
            first[i] = entry.getValue()[0];
            second[i] = entry.getValue()[1];
            firstSum += first[i];
            secondSum += second[i];
            i++;
        }
        firstTotal = firstSum;
        secondTotal = secondSum;
    }

    /** Sums for second washes that took everything off; washes without mites are left out. */
    public static PooledTimes exhaustive(List<TimedWash> washes) {
        return of(washes, false);
    }

    /** Sums by first and second agitation time, for second washes by the same method. */
    static PooledTimes sameMethod(List<TimedWash> washes) {
        return of(washes, true);
    }

    private static PooledTimes of(List<TimedWash> washes, boolean bySecondTime) {
        var sums = new TreeMap<Times, double[]>();
        for (TimedWash wash : washes) {
            if (wash.mites() > 0) {
                double second =
                        bySecondTime ? wash.secondWashS().orElseThrow() : Double.POSITIVE_INFINITY;
                double[] sum =
                        sums.computeIfAbsent(
                                new Times(wash.agitationS(), second), times -> new double[2]);
                sum[0] += wash.firstWashMites();
                sum[1] += wash.secondWashMites();
            }
        }
        return new PooledTimes(sums);
    }

    int size() {
        return seconds.length;
    }

    double mites() {
        return firstTotal + secondTotal;
    }

    double shortest() {
        return seconds[0];
    }

    double longest() {
        return seconds[seconds.length - 1];
    }

    /** A rate that puts the pooled share at the mean time: a start for every search in ln k. */
    double roughLogRate() {
        double weighted = 0;
        for (int i = 0; i < size(); i++) {
            weighted += (first[i] + second[i]) * seconds[i];
        }
        double mean = weighted / (firstTotal + secondTotal);
        double share = (firstTotal + 0.5) / (firstTotal + secondTotal + 1);
        return Math.log(-Math.log1p(-share) / mean);
    }
}
