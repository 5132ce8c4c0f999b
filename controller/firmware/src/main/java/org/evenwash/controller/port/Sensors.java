package org.evenwash.controller.port;

import org.evenwash.controller.process.Readings;

/** Every sensor of the bench. */
public interface Sensors {
    /**
     * Samples all of them once. Never blocks: a slow sensor is read elsewhere and its last reading
     * handed on with its age. What cannot be read is MISSING, never a default and never an
     * exception.
     */
    Readings read(long uptime_ns);
}
