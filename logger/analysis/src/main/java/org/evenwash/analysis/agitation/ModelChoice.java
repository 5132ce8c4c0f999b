package org.evenwash.analysis.agitation;

import java.util.ArrayList;
import java.util.List;
import java.util.Optional;

/**
 * Which curve to believe. The exponential one is kept unless it misfits <em>and</em> another is
 * better by two units of QAIC: asked by information criterion alone, a fifth of perfectly
 * exponential washes would be given a plateau they do not have.
 *
 * @param chosen fit to report
 * @param candidates every curve that could be fitted, the best first
 * @param phi dispersion of the best-fitting of the richest curves, at least 1, that all are judged by
 * @param lackOfFit of the exponential curve; empty with a single time
 */
public record ModelChoice(
        ReleaseFit chosen, List<Candidate> candidates, double phi, Optional<LackOfFit> lackOfFit) {

    /** Curves within this of the best cannot be told from it. */
    public static final double CLOSE = 2;

    /** One fitted curve; {@code delta} is its QAIC less the best one's. */
    public record Candidate(ReleaseFit fit, double qaic, double delta) {}

    public ModelChoice {
        candidates = List.copyOf(candidates);
    }

    /** Fits what the data allow; nothing if not even the exponential curve can be fitted. */
    public static Optional<ModelChoice> of(List<TimedWash> washes, double share) {
        return ExponentialFit.fit(washes, share).map(exponential -> of(washes, share, exponential));
    }

    private static ModelChoice of(
            List<TimedWash> washes, double share, ExponentialFit exponential) {
        List<ReleaseFit> rich = new ArrayList<>();
        int times = PooledTimes.exhaustive(washes).size();
        if (times >= 3) {
            SaturatingFit.fit(washes, share).ifPresent(rich::add);
        }
        WeibullFit.fit(washes, share)
                .filter(fit -> fit.timeToShare().isPresent())
                .ifPresent(rich::add);
        double phi =
                rich.stream()
                        .mapToDouble(fit -> fit.quality().phi())
                        .min()
                        .orElse(exponential.quality().phi());
        List<ReleaseFit> all = new ArrayList<>(rich);
        all.add(0, exponential);
        double best = all.stream().mapToDouble(fit -> qaic(fit, phi)).min().orElseThrow();
        List<Candidate> candidates =
                all.stream()
                        .map(fit -> new Candidate(fit, qaic(fit, phi), qaic(fit, phi) - best))
                        .sorted((a, b) -> Double.compare(a.qaic(), b.qaic()))
                        .toList();
        Optional<LackOfFit> lack = LackOfFit.of(washes, exponential);
        boolean misfits = lack.map(LackOfFit::suspect).orElse(false);
        boolean worse = qaic(exponential, phi) - best >= CLOSE;
        ReleaseFit chosen = misfits && worse ? candidates.get(0).fit() : exponential;
        return new ModelChoice(chosen, candidates, phi, lack);
    }

    private static double qaic(ReleaseFit fit, double phi) {
        return -2 * fit.quality().loglik() / phi + 2 * fit.model().parameters();
    }
}
