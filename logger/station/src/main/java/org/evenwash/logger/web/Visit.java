package org.evenwash.logger.web;

import io.javalin.http.Context;
import java.util.UUID;
import org.evenwash.logger.access.Person;
import org.evenwash.logger.store.Role;

/**
 * Who a request comes from.
 *
 * @param person null for a stranger, and as long as nobody has a password
 */
record Visit(Kind kind, Person person) {
    private static final String ATTRIBUTE = "visit";

    enum Kind {
        /** Not signed in. */
        STRANGER,
        /** At this machine, while nobody has a password yet: may do everything. */
        HOUSE,
        /** Signed in with a password; writes carry the session's token. */
        SESSION,
        /** A program with a token of its own in the header, which no other site can send. */
        TOKEN
    }

    static final Visit STRANGER = new Visit(Kind.STRANGER, null);
    static final Visit HOUSE = new Visit(Kind.HOUSE, null);

    static Visit of(Context ctx) {
        Visit visit = ctx.attribute(ATTRIBUTE);
        return visit == null ? STRANGER : visit;
    }

    void keep(Context ctx) {
        ctx.attribute(ATTRIBUTE, this);
    }

    boolean may(Role least) {
        if (kind == Kind.HOUSE) {
            return true;
        }
        return person != null && person.role() != null && person.role().covers(least);
    }

    /** The person of the yard in whose name something is entered; null where that is not known. */
    UUID operatorId() {
        return person == null ? null : person.operatorId();
    }
}
