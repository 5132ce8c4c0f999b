package org.evenwash.logger.store;

/** Whether the queen was looked for before the bees were taken. */
public enum QueenCheck {
    SEEN_ELSEWHERE,
    CHECKED_NOT_SEEN,
    NOT_CHECKED,
    NOT_STATED
}
