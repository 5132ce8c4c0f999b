package org.evenwash.record;

import java.util.UUID;

/**
 * What stood at one jar position.
 *
 * @param position 1 to 8, counted from the left
 * @param ticketId the ticket it was run under, null without one
 * @param washId the wash that ticket named, null without one
 */
public record Position(int position, UUID ticketId, UUID washId, Pass pass) {
    /** Jars that one bench can hold. */
    public static final int MOST = 8;

    public Position {
        Check.range("position", position, 1, MOST);
        Check.present("pass", pass);
    }
}
