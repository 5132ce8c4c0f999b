package org.evenwash.analysis.agitation;

import java.math.BigDecimal;
import java.math.MathContext;
import java.util.ArrayList;
import java.util.List;
import java.util.Locale;

/** The sentences beside an agitation time. */
final class AgitationWords {

    private static final double ENOUGH_SECOND_WASH = 2;

    /** Less would read "1.0 times". */
    private static final double WORTH_SAYING = 1.05;

    private AgitationWords() {}

    static String seconds(double value) {
        return Double.isInfinite(value) ? "no limit" : threeFigures(value) + " s";
    }

    static String share(double value) {
        return threeFigures(100 * value) + " %";
    }

    private static String threeFigures(double value) {
        var rounded = new BigDecimal(value).round(new MathContext(3));
        return rounded.signum() == 0 ? "0" : rounded.stripTrailingZeros().toPlainString();
    }

    private static String interval(TimeToShare time) {
        return seconds(time.seconds())
                + " ("
                + seconds(time.lower())
                + " to "
                + seconds(time.upper())
                + ")";
    }

    static List<String> remarks(ModelChoice choice, PooledTimes data) {
        List<String> remarks = new ArrayList<>();
        ReleaseFit chosen = choice.chosen();
        TimeToShare time = chosen.timeToShare().orElseThrow();
        remarks.add("Curve used: " + chosen.model().words() + ".");
        if (time.seconds() > data.longest() && Double.isFinite(time.seconds())) {
            remarks.add(
                    "Extrapolated: the longest agitation tried was "
                            + seconds(data.longest())
                            + ".");
        }
        if (chosen instanceof SaturatingFit saturating) {
            remarks.add(
                    "The fitted plateau is "
                            + share(saturating.a())
                            + "; "
                            + share(0.95)
                            + " of what can be taken off at all takes "
                            + seconds(saturating.t95OfPlateau())
                            + ".");
        }
        fit(choice, remarks);
        others(choice, remarks);
        dispersion(chosen.quality(), remarks);
        remarks.add(
                "Taken for granted: the second wash took off all that was left; rests and soak were alike in"
                        + " all washes. Time is total agitation; nothing is said about a pattern of bouts"
                        + " that was not varied.");
        return remarks;
    }

    /** Of a bound, where no second wash found a mite. */
    static List<String> allOff(double limit, PooledTimes data) {
        List<String> remarks = new ArrayList<>();
        remarks.add(
                "No mites were left in any second wash, so the data only say that this time is enough;"
                        + " shorter times would show how much less is.");
        remarks.add(
                "Curve used: "
                        + ReleaseModel.EXPONENTIAL.words()
                        + ". Without a mite left, neither the curve nor scatter between washes can be"
                        + " checked.");
        String shortest = "The shortest agitation tried was " + seconds(data.shortest());
        remarks.add(
                limit < data.shortest()
                        ? shortest + "; that less is enough rests on the curve alone."
                        : shortest + ".");
        return remarks;
    }

    private static void fit(ModelChoice choice, List<String> remarks) {
        if (choice.lackOfFit().isEmpty()) {
            remarks.add("Whether the curve fits cannot be checked with so few different times.");
            return;
        }
        LackOfFit lack = choice.lackOfFit().get();
        boolean kept = choice.chosen().model() == ReleaseModel.EXPONENTIAL;
        String p = String.format(Locale.ROOT, "p = %.2g", lack.p());
        if (kept && lack.misfit()) {
            remarks.add(
                    "The curve does not fit the times ("
                            + p
                            + ") and no other fits clearly better: look"
                            + " for something besides time that differed between the washes.");
        } else if (kept && lack.suspect()) {
            remarks.add("The curve may not fit (" + p + "); more washes would tell.");
        } else if (!kept) {
            remarks.add("A single rate for all mites does not fit (" + p + ").");
        }
    }

    private static void others(ModelChoice choice, List<String> remarks) {
        for (var candidate : choice.candidates()) {
            boolean other = candidate.fit() != choice.chosen();
            if (other && candidate.delta() < ModelChoice.CLOSE) {
                candidate
                        .fit()
                        .timeToShare()
                        .ifPresent(
                                time ->
                                        remarks.add(
                                                "Cannot be told apart: "
                                                        + candidate.fit().model().words()
                                                        + " gives "
                                                        + interval(time)
                                                        + "."));
            }
        }
    }

    private static void dispersion(FitQuality quality, List<String> remarks) {
        if (quality.phi() >= WORTH_SAYING) {
            remarks.add(
                    String.format(
                            Locale.ROOT,
                            "Washes scatter %.1f times as much as chance in counting alone would make"
                                    + " them; the interval is widened for it.",
                            quality.phi()));
        }
    }

    static List<String> remarks(ConditionalFit fit, List<TimedWash> washes) {
        List<String> remarks = new ArrayList<>();
        remarks.add(
                "From second washes by the same method: the share is of the mites that this method can take"
                        + " off at all. Mites that never let go would not show.");
        dispersion(fit.quality(), remarks);
        fit.unscaled()
                .ifPresent(
                        unscaled ->
                                remarks.add(
                                        "By chance in counting alone the interval would be "
                                                + seconds(unscaled.lower())
                                                + " to "
                                                + seconds(unscaled.upper())
                                                + "."));
        double enough = ENOUGH_SECOND_WASH * -Math.log(0.05) / fit.k();
        double shortest =
                washes.stream().mapToDouble(w -> w.secondWashS().orElseThrow()).min().orElseThrow();
        if (shortest < enough) {
            remarks.add(
                    "The shortest second wash was "
                            + seconds(shortest)
                            + "; "
                            + seconds(enough)
                            + " (twice the time to 95 %) would leave next to nothing on the bees.");
        }
        double longest = washes.stream().mapToDouble(TimedWash::agitationS).max().orElseThrow();
        if (fit.time().seconds() > longest) {
            remarks.add("Extrapolated: the longest agitation tried was " + seconds(longest) + ".");
        }
        return remarks;
    }
}
