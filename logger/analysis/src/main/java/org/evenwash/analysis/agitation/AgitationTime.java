package org.evenwash.analysis.agitation;

import static org.evenwash.analysis.agitation.AgitationWords.share;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;

/**
 * How long to agitate so that a wanted share of the mites comes off, from washes at several times.
 * Refuses a verdict on few data, which the fits themselves never do.
 */
public final class AgitationTime {

    /** Fewer washes than this give no verdict. */
    public static final int MIN_WASHES = 12;

    /** Fewer distinct times than this give no verdict. */
    public static final int MIN_TIMES = 3;

    /** Fewer mites than this, both washes together, give no verdict. */
    public static final int MIN_MITES = 150;

    private AgitationTime() {}

    /**
     * What was found.
     *
     * @param result time in seconds to the asked share
     * @param choice of curve, with all fits; empty where none could be fitted
     */
    public record Report(Result result, Optional<ModelChoice> choice) {}

    /**
     * What was found from second washes by the same method.
     *
     * @param result time in seconds to the asked share of what this method can take off at all
     * @param fit empty where none could be made
     */
    public record SameMethodReport(Result result, Optional<ConditionalFit> fit) {}

    /**
     * Time to {@code share}, taking the second wash for exhaustive.
     *
     * @param share between 0 and 1, such as 0.95
     */
    public static Report exhaustive(List<TimedWash> washes, double share) {
        requireShare(share);
        PooledTimes data = PooledTimes.exhaustive(washes);
        Optional<ModelChoice> choice = ModelChoice.of(washes, share);
        return new Report(verdict(washes, data, choice, share), choice);
    }

    private static Result verdict(
            List<TimedWash> washes, PooledTimes data, Optional<ModelChoice> choice, double share) {
        if (data.firstTotal == 0) {
            return new NotEnoughData(
                    "washes in which the first wash took some mites off (now none did)");
        }
        if (data.secondTotal == 0) {
            double k = ExponentialFit.slowestRate(data);
            return allOff(-Math.log1p(-share) / k, washes, data);
        }
        Optional<String> lacking = lacking(washes);
        if (lacking.isPresent()) {
            return new NotEnoughData(lacking.get());
        }
        if (flatOrFalling(data)) {
            return new NotEnoughData(
                    "washes at shorter times: over the times tried, more agitation did not take more"
                            + " mites off, so no time can be read from them");
        }
        ModelChoice chosen = choice.orElseThrow();
        List<String> remarks = AgitationWords.remarks(chosen, data);
        return result(chosen.chosen().timeToShare().orElseThrow(), remarks);
    }

    private static Result allOff(double limit, List<TimedWash> washes, PooledTimes data) {
        List<String> remarks = AgitationWords.allOff(limit, data);
        lacking(washes)
                .ifPresent(
                        needs ->
                                remarks.add(
                                        "Too little to make a recipe of: needs " + needs + "."));
        return Double.isFinite(limit)
                ? new Bound(Side.AT_MOST, limit, remarks)
                : new NotEnoughData("washes at shorter times", remarks);
    }

    private static Result result(TimeToShare time, List<String> remarks) {
        if (Double.isFinite(time.seconds()) && time.seconds() > 0) {
            return new Estimate(
                    time.seconds(),
                    Math.min(time.lower(), time.seconds()),
                    Math.max(time.upper(), time.seconds()),
                    remarks);
        }
        if (Double.isFinite(time.lower()) && time.lower() > 0) {
            return new Bound(Side.AT_LEAST, time.lower(), remarks);
        }
        return new NotEnoughData(
                "another way of washing, or a lower share to aim at: the fitted plateau stays below "
                        + share(time.share())
                        + " however long the agitation",
                remarks);
    }

    /** Only a fit with a slope that may go either way can see that time has no effect. */
    private static boolean flatOrFalling(PooledTimes data) {
        return WeibullFit.line(data).filter(line -> !(line.b1() > 0)).isPresent();
    }

    /**
     * What is missing, as a person would say it, before an estimate is given or a recipe rests on a
     * bound; empty where nothing is.
     */
    public static Optional<String> lacking(List<TimedWash> washes) {
        List<TimedWash> withMites = washes.stream().filter(wash -> wash.mites() > 0).toList();
        long used = withMites.size();
        double mites = withMites.stream().mapToDouble(TimedWash::mites).sum();
        long times = withMites.stream().mapToDouble(TimedWash::agitationS).distinct().count();
        List<String> needs = new ArrayList<>();
        if (used < MIN_WASHES) {
            needs.add("at least " + MIN_WASHES + " washes with mites (now " + used + ")");
        }
        if (times < MIN_TIMES) {
            needs.add("at least " + MIN_TIMES + " different times (now " + times + ")");
        }
        if (mites < MIN_MITES) {
            needs.add("at least " + MIN_MITES + " mites in all (now " + (long) mites + ")");
        }
        return needs.isEmpty() ? Optional.empty() : Optional.of(String.join(", ", needs));
    }

    /**
     * Time to {@code share} from second washes by the same method, which need not take everything
     * off.
     *
     * @param washes each with the agitation time of its second wash
     * @param share between 0 and 1
     */
    public static SameMethodReport sameMethod(List<TimedWash> washes, double share) {
        requireShare(share);
        if (washes.stream().anyMatch(wash -> wash.secondWashS().isEmpty())) {
            throw new IllegalArgumentException(
                    "a wash has no time for its second wash: give it, or take the second wash for"
                            + " exhaustive");
        }
        PooledTimes data = PooledTimes.sameMethod(washes);
        Optional<ConditionalFit> fit = ConditionalFit.fit(washes, share);
        return new SameMethodReport(sameMethodVerdict(washes, data, fit, share), fit);
    }

    private static Result sameMethodVerdict(
            List<TimedWash> washes, PooledTimes data, Optional<ConditionalFit> fit, double share) {
        if (data.firstTotal == 0) {
            return new NotEnoughData(
                    "washes in which the first wash took some mites off (now none did)");
        }
        if (data.secondTotal == 0) {
            return ConditionalFit.slowestRate(data)
                    .map(k -> allOff(-Math.log1p(-share) / k, washes, data))
                    .orElseGet(() -> new NotEnoughData("more washes with mites, at shorter times"));
        }
        Optional<String> lacking = lacking(washes);
        if (lacking.isPresent()) {
            return new NotEnoughData(lacking.get());
        }
        if (fit.isEmpty()) {
            return new NotEnoughData(
                    "a second wash that takes off what is left: it took off as many mites as if the"
                            + " first had not been made, so no end of the release is in sight");
        }
        return result(fit.get().time(), AgitationWords.remarks(fit.get(), washes));
    }

    private static void requireShare(double share) {
        if (!(share > 0 && share < 1)) {
            throw new IllegalArgumentException(
                    "share " + share + ": expected between 0 and 1, such as 0.95");
        }
    }
}
