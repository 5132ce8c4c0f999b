package org.evenwash.analysis.apiary;

import org.evenwash.analysis.Require;

/** The wash of one colony: mites, and bees (decimals when estimated). */
public record ColonyWash(int mites, double bees) {

    public ColonyWash {
        Require.count("mites", mites);
        Require.positive("bees", bees);
    }

    /** Mites per 100 bees. */
    public double rate() {
        return 100 * mites / bees;
    }
}
