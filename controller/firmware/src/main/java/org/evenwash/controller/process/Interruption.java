package org.evenwash.controller.process;

import java.time.Duration;

/**
 * A hold.
 *
 * @param cause tag of the interlock, or {@code OPERATOR} or {@code REMOTE}
 * @param bout number of the bout it fell in or after, from 1
 * @param at since the start of the cycle
 * @param length until the restart, or until the cycle was stopped
 */
public record Interruption(String cause, int bout, Duration at, Duration length) {}
