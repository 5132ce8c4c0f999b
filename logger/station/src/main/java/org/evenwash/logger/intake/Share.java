package org.evenwash.logger.intake;

import org.evenwash.logger.secret.RandomSecret;
import org.evenwash.logger.store.Database;

/**
 * The name under which stations of a group share what comes. Nobody else may know it: a broker deals a
 * share to whoever subscribes by that name, and Mosquitto drops what the one it dealt to may not read.
 *
 * @param group as its stations are told
 * @param secret random, the same for all of them
 */
public record Share(String group, String secret) {
    /** The group's share; whichever station comes first makes its secret. */
    public static Share of(Database database, String group) {
        return new Share(group, database.factOr("share of " + group, RandomSecret.make()));
    }

    String filter(String topics) {
        return "$share/" + group + "-" + secret + "/" + topics;
    }

    /** As earlier versions called it. A session that was theirs would be dealt everything twice. */
    String earlierFilter(String topics) {
        return "$share/" + group + "/" + topics;
    }
}
