package org.evenwash.record;

import java.util.UUID;

/**
 * What stood at one jar position.
 *
 * @param position 1 to 8, counted from the left
 * @param ticketId the ticket it was run under, null without one
 * @param washId the wash that ticket named, null without one
 * @param soak_s from the last agitation to the jar's removal, or as long as was watched; null when
 *     it was not watched
 * @param removed false when the jar was still there when the record was made: it soaked for at
 *     least {@code soak_s}
 */
public record Position(
        int position, UUID ticketId, UUID washId, Pass pass, Double soak_s, Boolean removed) {
    /** Jars that one bench can hold. */
    public static final int MOST = 8;

    public Position {
        Check.range("position", position, 1, MOST);
        Check.present("pass", pass);
        Check.optionalRange("soak_s", soak_s, 0, 1e9);
    }

    /** Without a soak time. */
    public Position(int position, UUID ticketId, UUID washId, Pass pass) {
        this(position, ticketId, washId, pass, null, null);
    }
}
