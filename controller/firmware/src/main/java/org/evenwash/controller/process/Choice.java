package org.evenwash.controller.process;

/** What the operator can tell the bench besides a command. Only the panel offers these. */
public enum Choice {
    NONE,
    /** The cautions for flammable spirit were read: good for this boot, at most 12 h. */
    ACKNOWLEDGE_CAUTIONS,
    /** The spirit is near its flash point and the operator goes on: good for one cycle. */
    ACKNOWLEDGE_WARM_SPIRIT,
    /** The jar of the last cycle stays in: the next cycle continues it. */
    SAME_JAR_AGAIN,
    /** The same bees in fresh spirit, to see what the first wash left. */
    SECOND_WASH,
    /** Begin the guided test of emergency stop, lid and one-shot. */
    PROOF_TEST,
    /** Silence the sounder until it has something new to say. */
    SILENCE
}
