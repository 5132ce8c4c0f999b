package org.evenwash.logger.wash;

import java.util.ArrayList;
import java.util.List;
import java.util.stream.IntStream;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.infestation.BeesInSample;
import org.evenwash.analysis.infestation.Infestation;
import org.evenwash.analysis.recovery.RecountSummary;
import org.evenwash.analysis.recovery.WashPair;
import org.evenwash.logger.store.BeeMeasure;
import org.evenwash.logger.store.CountedWash;
import org.evenwash.logger.store.WashLine;

/** Infestation of a wash as it stands in the book: first wash, first count, not corrected. */
public final class Infestations {
    private static final String ESTIMATED =
            "The bees were estimated, not counted; how far the estimate may be off is not known, so the"
                    + " interval leaves it out.";

    private Infestations() {}

    /**
     * Mites per 100 bees.
     *
     * @param mites null until counted
     * @param bees null until known
     * @param beesLogSd standard deviation of ln(bees) of an estimate, null if unknown
     */
    public static Result of(Integer mites, Double bees, BeeMeasure measure, Double beesLogSd) {
        return of(mites, bees, measure, beesLogSd, List.of());
    }

    /** @param cautions about the estimate of the bees, which the infestation repeats */
    static Result of(
            Integer mites,
            Double bees,
            BeeMeasure measure,
            Double beesLogSd,
            List<String> cautions) {
        List<String> needs = new ArrayList<>();
        if (mites == null) {
            needs.add("the mites of the first wash");
        }
        if (bees == null) {
            needs.add("the number of bees in the sample");
        }
        if (!needs.isEmpty()) {
            return new NotEnoughData(String.join(" and ", needs));
        }
        if (measure.estimated() && beesLogSd != null) {
            return Infestation.estimated(mites, new BeesInSample(bees, beesLogSd, cautions));
        }
        Result result = Infestation.counted(mites, bees);
        // A whole number that came from a fill line looks counted; only the measure tells.
        return measure.estimated() && bees == Math.rint(bees) ? remarked(result) : result;
    }

    public static Result of(WashLine line) {
        return of(line.mites(), line.bees(), line.beeMeasure(), line.beesLogSd());
    }

    public static Result of(CountedWash wash) {
        return of(wash.mites(), wash.bees(), wash.beeMeasure(), wash.beesLogSd());
    }

    /**
     * Mites per 100 bees, corrected by the second washes of a calibration.
     *
     * @param mites null until counted
     * @param bees null until known
     * @param first mites of the calibration's first washes
     * @param second mites of its second washes, in the same order
     * @return null where mites or bees are missing
     */
    static Result corrected(Integer mites, BeesInSample bees, double[] first, double[] second) {
        if (mites == null || bees == null) {
            return null;
        }
        List<WashPair> pairs =
                IntStream.range(0, first.length)
                        .mapToObj(i -> new WashPair((int) first[i], (int) second[i]))
                        .toList();
        return Infestation.corrected(mites, bees, RecountSummary.of(pairs));
    }

    private static Result remarked(Result result) {
        List<String> remarks = new ArrayList<>(List.of(ESTIMATED));
        remarks.addAll(result.remarks());
        if (result instanceof Result.Estimate estimate) {
            return new Result.Estimate(
                    estimate.value(), estimate.lower(), estimate.upper(), remarks);
        }
        if (result instanceof Result.Bound bound) {
            return new Result.Bound(bound.side(), bound.limit(), remarks);
        }
        return result;
    }
}
