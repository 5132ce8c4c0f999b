package org.evenwash.analysis.threshold;

import java.util.Optional;
import org.evenwash.analysis.threshold.Verdict.Call;
import org.hipparchus.distribution.discrete.PoissonDistribution;

/**
 * How many more bees would settle an undecided wash. If the true rate equals the estimate, the
 * smallest number of further bees, in steps of 50, such that the Garwood interval of all bees
 * together excludes the threshold on that side with probability at least 0.8. Exact: for Poisson
 * counts the interval excludes the threshold once the count reaches a fixed number.
 *
 * <p>A planning value, not a promise: the true rate is not the estimate.
 */
public sealed interface MoreBees {
    int STEP_BEES = 50;
    int MOST_BEES = 3000;
    double WANTED_PROBABILITY = 0.8;

    /** Looking again and again is a different test, and every reader of a plan should know. */
    String REPEATED_LOOKS =
            "Wash the whole number before looking: judging after every wash and stopping when it"
                    + " suits makes wrong verdicts more frequent than the 2.5 % on each side that the"
                    + " interval promises.";

    String words();

    /** How many more, where more would do. */
    default Optional<Integer> moreBees() {
        return Optional.empty();
    }

    /** The interval already excludes the threshold. */
    record Settled(Call call) implements MoreBees {
        @Override
        public String words() {
            return "Settled: " + call.word() + ".";
        }
    }

    /**
     * @param bees to wash in addition, a multiple of 50 up to 3,000
     * @param call on which side they would settle it
     * @param probability that they do, if the true rate equals the estimate; at least 0.8
     */
    record Wash(int bees, Call call, double probability) implements MoreBees {
        @Override
        public Optional<Integer> moreBees() {
            return Optional.of(bees);
        }

        @Override
        public String words() {
            return "Wash about "
                    + bees
                    + " more bees to settle it ("
                    + call.word()
                    + ", if the true rate is near the estimate). "
                    + REPEATED_LOOKS;
        }
    }

    /** Even 3,000 more bees would probably not do. */
    record NotToBeSettled() implements MoreBees {
        @Override
        public String words() {
            return "Too close to the threshold: not to be settled by bees (more than 3,000 needed).";
        }
    }

    /**
     * The bees were estimated, and every plan here holds for counted ones: the estimate's own
     * uncertainty is in the interval and no further bees take it out.
     *
     * @param then what their count leaves to do, if they are as many as estimated
     */
    record Count(MoreBees then) implements MoreBees {
        @Override
        public Optional<Integer> moreBees() {
            return then.moreBees();
        }

        @Override
        public String words() {
            return then instanceof Settled settled
                    ? "Count the bees of this wash: if they are about as many as estimated, that settles it ("
                            + settled.call().word()
                            + ")."
                    : "Count the bees, of this wash and of those to come: an estimate widens the interval. "
                            + then.words();
        }
    }

    /**
     * @param estimated whether the bees were estimated rather than counted
     */
    static MoreBees toSettle(int mites, double bees, boolean estimated, double thresholdPer100) {
        MoreBees plan = toSettle(mites, bees, thresholdPer100);
        return estimated && !(plan instanceof NotToBeSettled) ? new Count(plan) : plan;
    }

    /**
     * From counted bees.
     *
     * @param mites washed off so far, at least 0
     * @param bees washed so far, above 0
     * @param thresholdPer100 above 0
     */
    static MoreBees toSettle(int mites, double bees, double thresholdPer100) {
        if (mites < 0
                || !(bees > 0 && Double.isFinite(bees))
                || !(thresholdPer100 > 0 && Double.isFinite(thresholdPer100))) {
            throw new IllegalArgumentException(
                    "needs at least 0 mites, bees and a threshold above 0, not "
                            + mites
                            + " mites, "
                            + bees
                            + " bees, "
                            + thresholdPer100
                            + " per 100");
        }
        double rate = mites / bees;
        double threshold = thresholdPer100 / 100;
        boolean above = rate > threshold;
        Call call = above ? Call.ABOVE : Call.BELOW;
        PoissonDistribution now = new PoissonDistribution(threshold * bees);
        if (above ? mites >= leastAbove(now) : mites <= mostBelow(now)) {
            return new Settled(call);
        }
        for (int more = STEP_BEES; more <= MOST_BEES; more += STEP_BEES) {
            PoissonDistribution atThreshold = new PoissonDistribution(threshold * (bees + more));
            double probability =
                    above
                            ? 1 - atMost(leastAbove(atThreshold) - mites - 1, rate * more)
                            : atMost(mostBelow(atThreshold) - mites, rate * more);
            if (probability >= WANTED_PROBABILITY) {
                return new Wash(more, call, probability);
            }
        }
        return new NotToBeSettled();
    }

    /** Smallest count whose lower Garwood limit lies above: P(X ≥ count) &lt; 0.025. */
    private static int leastAbove(PoissonDistribution atThreshold) {
        return atThreshold.inverseCumulativeProbability(0.975) + 1;
    }

    /** Largest count whose upper Garwood limit lies below: P(X ≤ count) &lt; 0.025; −1 if none. */
    private static int mostBelow(PoissonDistribution atThreshold) {
        return atThreshold.inverseCumulativeProbability(0.025) - 1;
    }

    private static double atMost(int count, double mean) {
        if (count < 0) {
            return 0;
        }
        return mean == 0 ? 1 : new PoissonDistribution(mean).cumulativeProbability(count);
    }
}
