package org.evenwash.analysis.numeric;

/** The 95 % level that every interval uses, and the constants that belong to it, unrounded. */
public final class Level {

    /** Probability left in each tail of a two-sided 95 % interval. */
    public static final double TAIL = 0.025;

    /** 97.5 % point of the normal law. */
    public static final double Z = 1.959963984540054;

    /** −ln 0.025: the 97.5 % upper limit of a Poisson mean when nothing was counted. */
    public static final double NONE_COUNTED = 3.688879454113936;

    /** 95 % point of chi-square with one degree of freedom. */
    public static final double CHI_SQUARE_1 = 3.841458820694124;

    private Level() {}
}
