package org.evenwash.analysis.agitation;

import java.util.Optional;

/** A fitted curve of the share of mites washed off against agitation time. */
public sealed interface ReleaseFit permits ExponentialFit, SaturatingFit, WeibullFit {

    ReleaseModel model();

    FitQuality quality();

    /** Time to the asked share; empty when the fitted share does not rise with time. */
    Optional<TimeToShare> timeToShare();

    /** Fitted share washed off after {@code seconds}, 0 to 1. */
    double share(double seconds);

    /**
     * The highest log-likelihood (binomial coefficients left out) that this model reaches on {@code
     * data} when the share after {@code seconds} is held at {@code share}: the profile from which
     * both the interval of a time and the band of a curve are read.
     */
    double constrained(PooledTimes data, double seconds, double share);
}
