package org.evenwash.controller.sim;

/** What can be wrong with a sensor. */
public enum Fault {
    NONE,
    /** No reading at all. */
    DISCONNECTED,
    /** The last reading for ever, as if fresh. */
    STUCK,
    /** The last reading for ever, growing old. */
    SILENT,
    /** A contact that chatters; a value with a tenth of its range as noise. */
    NOISY,
    /** A value that cannot be; a contact has none and reads nothing. */
    OUT_OF_RANGE
}
