package org.evenwash.logger.store;

/** What an account or a token may do; each role may also do what the one before it may. */
public enum Role {
    /** The day's work: plan, wash, count, correct, and read all of it. */
    OPERATOR,
    /** Also what changes how washes are judged, and what takes evidence off the lists. */
    REVIEWER,
    /** Also people, passwords and benches. */
    KEEPER;

    /** Whether this role may do what asks for {@code other}. */
    public boolean covers(Role other) {
        return compareTo(other) >= 0;
    }
}
