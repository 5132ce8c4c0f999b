package org.evenwash.controller.process;

/** The recipe's current step within RUNNING. */
public enum Step {
    NONE,
    /** Motor off until the last marker is durable. */
    WAIT,
    AGITATE,
    REST
}
