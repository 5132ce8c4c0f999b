package org.evenwash.logger.store;

/** Where in the hive the bees were taken. */
public enum Frame {
    BROOD_NEST,
    HONEY,
    OTHER,
    NOT_STATED
}
