package org.evenwash.controller.process;

import java.time.Duration;

/**
 * How far a cycle may stray and still conform to its recipe.
 *
 * @param agitation allowed difference of each bout's agitation time
 * @param rest allowed excess of each rest; a rest is never shorter than planned
 * @param speed_fraction allowed difference from the speed asked for, as a fraction of it
 * @param timeInBand_fraction least part of the agitation between the ramps that must be within
 *     {@code speed_fraction}
 */
public record Tolerances(
        Duration agitation, Duration rest, double speed_fraction, double timeInBand_fraction) {
    /** Common practice has no figures for these: chosen so that a sound bench meets them. */
    public static final Tolerances USUAL =
            new Tolerances(Duration.ofMillis(200), Duration.ofSeconds(2), 0.10, 0.90);
}
