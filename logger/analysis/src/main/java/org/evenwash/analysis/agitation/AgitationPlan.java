package org.evenwash.analysis.agitation;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.OptionalInt;
import java.util.stream.DoubleStream;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * How many washes at which times will tell the time to 95 % closely enough. A planning value from the
 * Fisher information of the fit, with Student's t for the degrees of freedom and φ = 1 +
 * (mites−1)·rho for the scatter between washes; simulated half-widths agree within about a fifth.
 *
 * @param model to be fitted; a plateau cannot be planned for, as its height is not known beforehand
 * @param times of agitation, as multiples of the expected time to 95 %; washes are spread evenly
 * @param mitesPerWash expected, both washes together, 1 or more
 * @param rho correlation of two mites' fates within a wash beyond the curve, 0 to 1; 0.05 is a
 *     cautious guess
 */
public record AgitationPlan(
        ReleaseModel model, List<Double> times, double mitesPerWash, double rho) {

    /** Times that also allow the curve to be checked, from 0.15 to twice the time to 95 %. */
    public static final List<Double> RECOMMENDED_TIMES = List.of(0.15, 0.3, 0.6, 1.0, 1.5, 2.0);

    /** The best single time tells this share of the information a continuous watch would. */
    private static final double BEST_INFORMATION = 0.648;

    private static final int MOST_WASHES = 10_000;
    private static final int TIMES_TO_CHECK = 4;
    private static final double DECAY_95 = -Math.log(0.05);

    public AgitationPlan {
        times = List.copyOf(times);
        if (model == ReleaseModel.SATURATING) {
            throw new IllegalArgumentException(
                    "a plateau cannot be planned for: choose EXPONENTIAL or WEIBULL");
        }
        if (times.size() < model.parameters()
                || times.stream().anyMatch(t -> !(t > 0 && t < 100))) {
            throw new IllegalArgumentException(
                    "times "
                            + times
                            + ": need "
                            + model.parameters()
                            + " or more, as multiples of the time to 95 %, above 0 and below 100");
        }
        if (!(mitesPerWash >= 1 && mitesPerWash <= 1e6) || !(rho >= 0 && rho <= 1)) {
            throw new IllegalArgumentException(
                    mitesPerWash
                            + " mites a wash, rho "
                            + rho
                            + ": expected 1 to a million, and 0 to 1");
        }
    }

    /** How many times as much as chance in counting the washes are expected to scatter. */
    public double phi() {
        return 1 + (mitesPerWash - 1) * rho;
    }

    /** Expected half-width of the 95 % interval of the time, as a fraction of the time. */
    public double halfWidth(int washes) {
        double factor = Quantiles.student95(Math.max(1, washes - model.parameters()));
        return factor * Math.sqrt(phi() * unitVariance() / (washes * mitesPerWash));
    }

    /** The fewest washes, not below the minimum for a verdict; empty beyond 10,000. */
    public OptionalInt washesFor(double halfWidth) {
        int low = AgitationTime.MIN_WASHES;
        int high = MOST_WASHES;
        if (halfWidth(low) <= halfWidth) {
            return OptionalInt.of(low);
        }
        if (!(halfWidth(high) <= halfWidth)) {
            return OptionalInt.empty();
        }
        while (high - low > 1) {
            int middle = (low + high) / 2;
            if (halfWidth(middle) <= halfWidth) {
                high = middle;
            } else {
                low = middle;
            }
        }
        return OptionalInt.of(high);
    }

    /** Mites in all for a half-width, one rate for all mites and times near the best one. */
    public static double mitesFor(double halfWidth, double phi) {
        return phi * Level.Z * Level.Z / (halfWidth * halfWidth * BEST_INFORMATION);
    }

    /** Times to try, in seconds rounded to 5, around a guess of the time to 95 %. */
    public static List<Double> timesAround(double guessS) {
        return RECOMMENDED_TIMES.stream()
                .map(multiple -> Math.max(5, 5.0 * Math.round(multiple * guessS / 5)))
                .distinct()
                .toList();
    }

    /**
     * What to mind when the washes are made, in full sentences.
     *
     * @param guessS guess of the time to 95 %, seconds, above 0
     */
    public List<String> advice(double guessS) {
        List<String> advice = new ArrayList<>();
        if (times.stream().distinct().count() < TIMES_TO_CHECK) {
            advice.add(
                    "At least "
                            + TIMES_TO_CHECK
                            + " different times are needed to see whether the curve fits;"
                            + " try "
                            + timesAround(guessS)
                            + " s.");
        }
        if (phi() > 1) {
            advice.add(
                    "Washes are expected to scatter more than chance in counting: more washes tell more than"
                            + " more mites in each.");
        }
        advice.add(
                "A second wash by the same method should take at least "
                        + AgitationWords.seconds(2 * guessS)
                        + ", twice the time to 95 %; a plateau shows only against a method that takes"
                        + " everything off.");
        advice.add("Keep rests and soak alike in all washes, or write them down.");
        advice.add(
                "Agitating one sample in stages and counting after each tells up to 41 % more per mite than"
                        + " the best single time (calculated, not tried).");
        return advice;
    }

    /** Variance of ln(time to 95 %) when one mite is washed, times spread evenly. */
    private double unitVariance() {
        double[] logs = times.stream().mapToDouble(Math::log).toArray();
        // Fisher information of the line's height (at the time to 95 %) and slope, b1 = 1.
        double[] information = Arrays.stream(logs).map(AgitationPlan::information).toArray();
        double n = logs.length;
        double aa = DoubleStream.of(information).sum() / n;
        if (model == ReleaseModel.EXPONENTIAL) {
            return 1 / aa;
        }
        double ab = 0;
        double bb = 0;
        for (int i = 0; i < logs.length; i++) {
            ab += information[i] * logs[i] / n;
            bb += information[i] * logs[i] * logs[i] / n;
        }
        return bb / (aa * bb - ab * ab);
    }

    private static double information(double logTime) {
        double released = DECAY_95 * Math.exp(logTime);
        return released * released / Math.expm1(released);
    }
}
