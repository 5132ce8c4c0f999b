package org.evenwash.record;

/** How a cycle ended. */
public enum Outcome {
    COMPLETE,
    STOPPED,
    ABORTED,
    /** Power or program were lost; the record holds what was durable before. */
    INTERRUPTED
}
