package org.evenwash.analysis.recovery;

import org.evenwash.analysis.Require;

/** The mites of a first and a second wash of the same bees. */
public record WashPair(int first, int second) {

    public WashPair {
        Require.count("first-wash mites", first);
        Require.count("second-wash mites", second);
    }

    /** All mites that either wash found. */
    public int total() {
        return first + second;
    }
}
