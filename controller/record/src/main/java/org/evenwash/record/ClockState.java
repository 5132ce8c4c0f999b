package org.evenwash.record;

import com.fasterxml.jackson.annotation.JsonProperty;

/** Whether a UTC label can be trusted: a bench has no battery-backed clock. */
public enum ClockState {
    @JsonProperty("synchronised")
    SYNCHRONISED,
    @JsonProperty("unsynchronised")
    UNSYNCHRONISED,
    @JsonProperty("unknown")
    UNKNOWN
}
