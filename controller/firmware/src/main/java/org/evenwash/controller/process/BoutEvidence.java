package org.evenwash.controller.process;

import java.time.Duration;

/**
 * What one bout was asked for and what it was.
 *
 * @param number from 1
 * @param planned what the recipe asked for
 * @param at from the start of the cycle to the first drive command
 * @param agitation from the first drive command to its removal, ramps included, holds left out
 * @param rest with the motor off after it, holds left out; zero while it is not over
 * @param speed between the ramps, rpm; empty when the bout never got there
 * @param atSpeed time between the ramps
 * @param withinTolerance time within the recipe's tolerance of the planned speed
 * @param revolutions of the shaft, from the tachometer; one revolution is one stroke of the jar
 */
public record BoutEvidence(
        int number,
        Bout planned,
        Duration at,
        Duration agitation,
        Duration rest,
        Stat speed,
        Duration atSpeed,
        Duration withinTolerance,
        double revolutions) {

    BoutEvidence rested(Duration actual) {
        return new BoutEvidence(
                number,
                planned,
                at,
                agitation,
                actual,
                speed,
                atSpeed,
                withinTolerance,
                revolutions);
    }
}
