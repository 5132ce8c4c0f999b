package org.evenwash.analysis.agitation;

/** How the share of mites washed off may grow with agitation time t. */
public enum ReleaseModel {
    /** P = 1 − e^(−kt): every mite lets go at the same rate. */
    EXPONENTIAL(1),
    /** P = a(1 − e^(−kt)), a ≤ 1: some mites never let go by this method. */
    SATURATING(2),
    /** P = 1 − exp(−e^b0·t^b1): the rate falls (b1 &lt; 1) or rises with time. */
    WEIBULL(2);

    private final int parameters;

    ReleaseModel(int parameters) {
        this.parameters = parameters;
    }

    /** Number of fitted parameters. */
    public int parameters() {
        return parameters;
    }
}
