package org.evenwash.controller.process;

import java.util.UUID;

/**
 * One jar in one place on the bench, and whose it is.
 *
 * @param position 1 to 8, counted from the motor
 * @param ticketId null when no ticket was loaded for it
 * @param washId null when the wash is not known yet and is tied to the cycle later
 */
public record Position(int position, UUID ticketId, UUID washId, Pass pass) {
    public Position {
        if (position < 1 || position > 8) {
            throw new IllegalArgumentException("position " + position + " is not 1 to 8");
        }
    }

    /** A jar nobody announced. */
    public static Position unassigned(int position) {
        return new Position(position, null, null, Pass.FIRST);
    }

    int bit() {
        return 1 << (position - 1);
    }

    Position secondWash() {
        return new Position(position, ticketId, washId, Pass.SECOND);
    }
}
