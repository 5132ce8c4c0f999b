package org.evenwash.controller.port;

import org.evenwash.controller.process.Outputs;

/** Everything the bench can be told: motor driver, supply permit, heartbeat, lamps, sounder. */
public interface Actuators {
    /**
     * Writes every output, changed or not. Fails with an unchecked exception naming the output; the
     * loop then tries {@link Outputs#SAFE} and ends.
     */
    void write(Outputs outputs);
}
