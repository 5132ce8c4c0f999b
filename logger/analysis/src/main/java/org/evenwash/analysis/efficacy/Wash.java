package org.evenwash.analysis.efficacy;

import org.evenwash.analysis.Require;

/** Mites on a number of bees (decimals when estimated). */
public record Wash(int mites, double bees) {

    public Wash {
        Require.count("mites", mites);
        Require.positive("bees", bees);
    }
}
