package org.evenwash.logger.web;

import org.evenwash.logger.store.Role;

/** Who may use a route: the rule that stands beside each in the route table. */
enum Access {
    /** Whoever reaches the port: the sign-in page, its style, up or down. Nothing that is kept here. */
    EVERYBODY(null),
    /** Figures for a monitoring program: this machine, any token, whoever is signed in. */
    METRICS(null),
    /** Whoever is signed in: the day's work and all that is read. */
    OPERATOR(Role.OPERATOR),
    /** What changes how washes are judged, or takes evidence off the lists. */
    REVIEWER(Role.REVIEWER),
    /** People, passwords, benches, the whole data. */
    KEEPER(Role.KEEPER);

    private final Role least;

    Access(Role least) {
        this.least = least;
    }

    /** The least role that the rule asks for; null where it asks for something else. */
    Role least() {
        return least;
    }
}
