package org.evenwash.logger.store;

/** Decides what season a day falls in. */
public enum Hemisphere {
    NORTHERN,
    SOUTHERN
}
