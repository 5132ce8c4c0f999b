package org.evenwash.logger.wash;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.evenwash.logger.store.Colonies;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.jdbi.v3.core.Handle;

/**
 * Takes back an event of a colony as a mistake, and with it what the event made of the colony. What a
 * later event built on stays until that one is taken back.
 */
final class EventWithdrawal {
    private final Handle handle;
    private final ColonyEvent event;
    private final Colony now;

    EventWithdrawal(Handle handle, ColonyEvent event) {
        this.handle = handle;
        this.event = event;
        this.now = Yard.colony(handle, event.colonyId());
    }

    void at(Instant at) {
        if (!Colonies.withdrawEvent(handle, event.id(), at)) {
            throw Refused.conflict(
                    "event", "was taken back already", "there is nothing left to do");
        }
        Colony before = before();
        if (!before.equals(now) && !Colonies.update(handle, before)) {
            throw Refused.conflict("colony", "was changed at the same moment", "try again");
        }
    }

    private Colony before() {
        return switch (event.kind()) {
            case RENAME -> {
                built(now.name().equals(event.laterName()));
                nameIsFree(now.apiaryId(), event.earlierName());
                yield with(now.apiaryId(), event.earlierName(), now.endedOn());
            }
            case MOVE -> {
                built(now.apiaryId().equals(event.toApiaryId()));
                nameIsFree(event.fromApiaryId(), now.name());
                yield with(event.fromApiaryId(), now.name(), now.endedOn());
            }
            case MERGE, DEATH -> {
                built(event.onDay().equals(now.endedOn()));
                nameIsFree(now.apiaryId(), now.name());
                yield with(now.apiaryId(), now.name(), null);
            }
            case REQUEEN, SPLIT, SWARM, TREATMENT -> now;
        };
    }

    private void built(boolean stillStands) {
        if (!stillStands) {
            throw Refused.conflict(
                    "event", "has a later one built on it", "take the later one back first");
        }
    }

    /** A colony that has ended takes no name. */
    private void nameIsFree(UUID apiaryId, String name) {
        boolean ends =
                event.kind() == ColonyEvent.Kind.MERGE || event.kind() == ColonyEvent.Kind.DEATH;
        if (ends || now.endedOn() == null) {
            Yard.nameIsFree(handle, apiaryId, name);
        }
    }

    private Colony with(UUID apiaryId, String name, LocalDate endedOn) {
        return new Colony(
                now.id(), apiaryId, name, endedOn, now.remarks(), now.createdAt(), now.version());
    }
}
