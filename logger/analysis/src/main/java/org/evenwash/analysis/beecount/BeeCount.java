package org.evenwash.analysis.beecount;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.numeric.Limits;

/**
 * Bees in a new sample with a 95 % prediction interval, from a calibration by fill line or mass.
 *
 * <p>Below 5 calibration samples the answer stands and says that it is provisional, and so does every
 * infestation that rests on it: its interval holds from 3 samples on, by Student's t. Refused, people
 * would type the number of bees in and lose the interval.
 */
public final class BeeCount {

    static final String TWO_SAMPLES =
            "Two calibration samples give a value but no usable interval; count at least three.";
    static final String PROVISIONAL =
            "Provisional: the number of bees rests on fewer than 5 counted calibration samples; 8 to 10"
                    + " are better.";

    /** Equal counts, or a perfect ratio, still leave the next sample uncertain by about a bee. */
    private static final double LEAST_SD = 1;

    private static final int FOR_INTERVAL = 3;
    private static final int NOT_PROVISIONAL = 5;
    private static final int FOR_INTERCEPT = 6;

    private BeeCount() {}

    /** At a fill line, from counted samples of the same line. */
    public static Result atFillLine(double... counted) {
        if (counted.length < 2) {
            return tooFew(counted.length, 2);
        }
        FillLine line = FillLine.of(LEAST_SD, counted);
        return answer(line.samples(), line.mean(), line.limits(), List.of());
    }

    /** By mass, from samples that were weighed and counted. */
    public static Result byMass(double[] grams, double[] counted, double newGrams) {
        if (grams.length < 2) {
            return tooFew(grams.length, 2);
        }
        MassRatio ratio = MassRatio.of(grams, counted, newGrams, LEAST_SD);
        return answer(
                ratio.samples(), ratio.bees(), ratio.limits(), cautions(grams, counted, newGrams));
    }

    /** The bees of a new sample at the fill line, for an infestation; none below 3 samples. */
    public static Optional<BeesInSample> sampleAtFillLine(double... counted) {
        if (counted.length < FOR_INTERVAL) {
            return Optional.empty();
        }
        FillLine line = FillLine.of(LEAST_SD, counted);
        return Optional.of(
                new BeesInSample(line.mean(), line.logSd(), provisional(counted.length)));
    }

    /** The bees of a new sample by its mass, for an infestation; none below 3 samples. */
    public static Optional<BeesInSample> sampleByMass(
            double[] grams, double[] counted, double newGrams) {
        if (grams.length < FOR_INTERVAL) {
            return Optional.empty();
        }
        MassRatio ratio = MassRatio.of(grams, counted, newGrams, LEAST_SD);
        var remarks = new ArrayList<>(cautions(grams, counted, newGrams));
        remarks.addAll(provisional(grams.length));
        return Optional.of(new BeesInSample(ratio.bees(), ratio.logSd(), remarks));
    }

    private static Result answer(int samples, double bees, Limits limits, List<String> cautions) {
        var remarks = new ArrayList<>(cautions);
        if (samples < FOR_INTERVAL) {
            remarks.add(TWO_SAMPLES);
            return new Estimate(bees, Double.NEGATIVE_INFINITY, Double.POSITIVE_INFINITY, remarks);
        }
        remarks.addAll(provisional(samples));
        return new Estimate(bees, Math.max(0, limits.lower()), limits.upper(), remarks);
    }

    private static List<String> provisional(int samples) {
        return samples < NOT_PROVISIONAL ? List.of(PROVISIONAL) : List.of();
    }

    private static List<String> cautions(double[] grams, double[] counted, double newGrams) {
        var remarks = new ArrayList<String>();
        double least = 0.7 * Arrays.stream(grams).min().orElseThrow();
        double most = 1.3 * Arrays.stream(grams).max().orElseThrow();
        if (newGrams < least || newGrams > most) {
            remarks.add(
                    String.format(
                            Locale.ROOT,
                            "Extrapolated: the calibration supports samples from %.1f to %.1f g.",
                            least,
                            most));
        }
        if (grams.length >= FOR_INTERCEPT && StraightLine.of(grams, counted).interceptP() < 0.05) {
            remarks.add(
                    "The bees are not in proportion to the mass (intercept differs from 0, p < 0.05):"
                            + " check the tare, or drained liquid.");
        }
        return remarks;
    }

    private static NotEnoughData tooFew(int samples, int needed) {
        return new NotEnoughData(
                "at least " + needed + " counted calibration samples (now " + samples + ")");
    }
}
