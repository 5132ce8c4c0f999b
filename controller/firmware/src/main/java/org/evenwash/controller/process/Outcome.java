package org.evenwash.controller.process;

/** How a cycle ended; UNFINISHED only in the markers made on the way. */
public enum Outcome {
    UNFINISHED,
    COMPLETE,
    STOPPED,
    ABORTED,
    /** Never given by the machine: a restart finds a marker without its record. */
    INTERRUPTED
}
