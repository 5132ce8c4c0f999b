package org.evenwash.analysis.apiary;

import org.evenwash.analysis.Require;
import org.evenwash.analysis.numeric.Poisson;

/**
 * Wald's sequential test (Wald 1947) between a low and a high infestation, washed in batches of 50 bees
 * until the evidence is 19 to 1 or 600 bees are reached; then the likelier side is taken.
 *
 * @param low mites per 100 bees, above 0
 * @param high mites per 100 bees, above {@code low}, at most 1000
 */
public record SequentialTest(double low, double high) {

    /** Bees a batch. */
    public static final int BATCH = 50;

    /** Bees at which the test ends in any case. */
    public static final int MOST_BEES = 600;

    private static final double EVIDENCE = Math.log(19);

    /** Where the test stands. */
    public enum Standing {
        LOW,
        HIGH,
        WASH_ANOTHER_BATCH
    }

    /**
     * How the test behaves at one true infestation.
     *
     * @param probabilityHigh of ending with HIGH
     * @param meanBees washed on average
     */
    public record Behaviour(double probabilityHigh, double meanBees) {}

    public SequentialTest {
        if (!(low > 0 && low < high && high <= 1000)) {
            throw new IllegalArgumentException(
                    "a sequential test needs 0 < low < high, not " + low + " and " + high);
        }
    }

    /** After {@code mites} on {@code bees} in all batches so far. */
    public Standing standing(int mites, double bees) {
        Require.count("mites", mites);
        Require.positive("bees", bees);
        return at(mites, bees);
    }

    private Standing at(int mites, double bees) {
        double evidence = mites * Math.log(high / low) - bees * (high - low) / 100;
        if (evidence >= EVIDENCE) {
            return Standing.HIGH;
        }
        if (evidence <= -EVIDENCE) {
            return Standing.LOW;
        }
        if (bees < MOST_BEES) {
            return Standing.WASH_ANOTHER_BATCH;
        }
        return evidence > 0 ? Standing.HIGH : Standing.LOW;
    }

    /** By adding up all paths of Poisson counts, at a true rate from 0 to 1000 per 100 bees. */
    public Behaviour behaviourAt(double rate) {
        var batch = new Poisson(rate * BATCH / 100);
        int most = (int) batch.quantile(1 - 1e-13);
        double[] mass = new double[most + 1];
        for (int j = 0; j <= most; j++) {
            mass[j] = batch.mass(j);
        }
        double[] open = {1};
        double highProbability = 0;
        double meanBees = 0;
        for (int bees = BATCH; bees <= MOST_BEES; bees += BATCH) {
            double[] next = convolved(open, mass);
            for (int mites = 0; mites < next.length; mites++) {
                Standing standing = at(mites, bees);
                if (standing != Standing.WASH_ANOTHER_BATCH) {
                    highProbability += standing == Standing.HIGH ? next[mites] : 0;
                    meanBees += next[mites] * bees;
                    next[mites] = 0;
                }
            }
            open = next;
        }
        return new Behaviour(highProbability, meanBees);
    }

    private static double[] convolved(double[] open, double[] mass) {
        var sum = new double[open.length + mass.length - 1];
        for (int i = 0; i < open.length; i++) {
            if (open[i] > 0) {
                for (int j = 0; j < mass.length; j++) {
                    sum[i + j] += open[i] * mass[j];
                }
            }
        }
        return sum;
    }
}
