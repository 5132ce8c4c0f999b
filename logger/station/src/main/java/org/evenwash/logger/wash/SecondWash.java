package org.evenwash.logger.wash;

/** What is taken for granted of the second washes of a study. */
public enum SecondWash {
    /** It took off all that the first wash had left. */
    EXHAUSTIVE,
    /** It was agitated in the same way, and left a part itself. */
    SAME_METHOD
}
