package org.evenwash.controller.process;

/**
 * Where in its recipe a cycle is.
 *
 * @param bout from 0
 * @param agitated_ns drive time of this bout so far
 * @param rest_ns motor-off time after the last agitation so far, holds left out
 * @param resumedAt_ns {@code agitated_ns} when the drive last started from standstill
 * @param begunAfter_ns from the start of the cycle to the bout's first drive command
 */
record Progress(
        int bout,
        Step step,
        long agitated_ns,
        long rest_ns,
        long resumedAt_ns,
        long begunAfter_ns) {
    static final Progress NONE = new Progress(0, Step.NONE, 0, 0, 0, 0);
    static final Progress FIRST = new Progress(0, Step.WAIT, 0, 0, 0, 0);

    Progress driven(long elapsed_ns) {
        return new Progress(
                bout, step, agitated_ns + elapsed_ns, rest_ns, resumedAt_ns, begunAfter_ns);
    }

    Progress rested(long elapsed_ns) {
        return new Progress(
                bout, step, agitated_ns, rest_ns + elapsed_ns, resumedAt_ns, begunAfter_ns);
    }

    Progress agitating(long after_ns) {
        return new Progress(bout, Step.AGITATE, 0, 0, 0, after_ns);
    }

    Progress resting() {
        return new Progress(bout, Step.REST, 0, 0, 0, 0);
    }

    /** Before the next bout; the rest goes on meanwhile. */
    Progress waiting() {
        return new Progress(bout + 1, Step.WAIT, 0, rest_ns, 0, 0);
    }

    /** After a hold the bout goes on with the time it has left, up its ramp again. */
    Progress resumed() {
        return new Progress(bout, step, agitated_ns, rest_ns, agitated_ns, begunAfter_ns);
    }
}
