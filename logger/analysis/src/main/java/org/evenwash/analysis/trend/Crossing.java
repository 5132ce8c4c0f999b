package org.evenwash.analysis.trend;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.function.DoubleFunction;
import org.evenwash.analysis.Result;
import org.evenwash.analysis.Result.Bound;
import org.evenwash.analysis.Result.Estimate;
import org.evenwash.analysis.Result.NotEnoughData;
import org.evenwash.analysis.Result.Side;
import org.evenwash.analysis.numeric.Limits;

/** When the fitted line meets a threshold, as far as a projection may be trusted. */
final class Crossing {

    private Crossing() {}

    /** The last week looked at: one observed span after the last sample. */
    static double horizon(List<Sample> samples) {
        double first = samples.get(0).week();
        double last = samples.get(samples.size() - 1).week();
        return last + (last - first);
    }

    /** @param naming how a week is called in sentences */
    static Result of(
            GrowthFit fit, List<Sample> samples, double threshold, DoubleFunction<String> naming) {
        double first = samples.get(0).week();
        double last = samples.get(samples.size() - 1).week();
        double horizon = horizon(samples);
        double week = fit.crossing(threshold);
        Optional<Limits> limits = fit.crossingLimits(threshold);
        if (limits.isEmpty() || !Double.isFinite(week)) {
            return new NotEnoughData(
                    "more dates or larger samples: neither growth nor decline is shown, so the date has no"
                            + " limits");
        }
        String until = naming.apply(horizon);
        if (limits.get().lower() > horizon) {
            return new Bound(
                    Side.AT_LEAST,
                    horizon,
                    List.of(
                            "The line does not reach the threshold by "
                                    + until
                                    + "; no later week is projected."));
        }
        if (week > horizon) {
            return new NotEnoughData(
                    "a sample nearer to the date: the line meets the threshold after "
                            + until
                            + ", further ahead than the series is long");
        }
        if (week < first) {
            return new NotEnoughData(
                    "samples from before "
                            + naming.apply(first)
                            + ": the line met the threshold earlier, and is not projected back");
        }
        String way = fit.b1() > 0 ? "rises" : "falls";
        String when =
                week > last
                        ? "to the threshold after the last sample."
                        : "through the threshold within the series.";
        List<String> remarks = new ArrayList<>();
        remarks.add("The line " + way + " " + when);
        if (limits.get().upper() > horizon) {
            remarks.add(
                    "The upper limit lies after " + until + ", further ahead than is projected.");
        }
        return new Estimate(
                week,
                Math.min(limits.get().lower(), week),
                Math.max(limits.get().upper(), week),
                remarks);
    }
}
