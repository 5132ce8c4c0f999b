package org.evenwash.analysis.agitation;

/** How the share of mites washed off may grow with agitation time t. */
public enum ReleaseModel {
    /** P = 1 − e^(−kt): every mite lets go at the same rate. */
    EXPONENTIAL(1, "one rate for all mites"),
    /** P = a(1 − e^(−kt)), a ≤ 1: some mites never let go by this method. */
    SATURATING(2, "a plateau below all mites"),
    /** P = 1 − exp(−e^b0·t^b1): the rate falls (b1 &lt; 1) or rises with time. */
    WEIBULL(2, "a rate that changes with time");

    private final int parameters;
    private final String words;

    ReleaseModel(int parameters, String words) {
        this.parameters = parameters;
        this.words = words;
    }

    /** Number of fitted parameters. */
    public int parameters() {
        return parameters;
    }

    /** What it takes for granted, for people. */
    public String words() {
        return words;
    }
}
