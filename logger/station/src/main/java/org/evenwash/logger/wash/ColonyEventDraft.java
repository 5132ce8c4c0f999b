package org.evenwash.logger.wash;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.evenwash.logger.store.Colony;
import org.evenwash.logger.store.ColonyEvent;
import org.evenwash.record.Ids;

/** A colony's event while it is put together, and what it makes of the colony. */
final class ColonyEventDraft {
    private final Colony before;
    private final ColonyEvent.Kind kind;
    private final LocalDate onDay;
    private LocalDate untilDay;
    private String laterName;
    private UUID toApiaryId;
    private UUID otherColonyId;
    private String substance;
    private String remarks = "";
    private boolean ends;

    ColonyEventDraft(Colony colony, ColonyEvent.Kind kind, LocalDate onDay) {
        this.before = colony;
        this.kind = kind;
        this.onDay = onDay;
    }

    ColonyEventDraft renamed(String later) {
        laterName = later;
        return this;
    }

    ColonyEventDraft moved(UUID toApiary) {
        toApiaryId = toApiary;
        return this;
    }

    ColonyEventDraft with(UUID otherColony) {
        if (otherColony.equals(before.id())) {
            throw Refused.invalid("other colony", "is the same colony", "choose another");
        }
        otherColonyId = otherColony;
        return this;
    }

    ColonyEventDraft treated(String activeSubstance, LocalDate lastDay) {
        substance = activeSubstance;
        untilDay = lastDay;
        return this;
    }

    ColonyEventDraft remarked(String text) {
        remarks = Entry.text("remarks", text);
        return this;
    }

    ColonyEventDraft ended() {
        ends = true;
        return this;
    }

    boolean changesColony() {
        return laterName != null || toApiaryId != null || ends;
    }

    Colony colony() {
        return new Colony(
                before.id(),
                toApiaryId == null ? before.apiaryId() : toApiaryId,
                laterName == null ? before.name() : laterName,
                ends ? onDay : before.endedOn(),
                before.remarks(),
                before.createdAt(),
                before.version());
    }

    ColonyEvent event(Instant recordedAt, UUID recordedBy) {
        return new ColonyEvent(
                Ids.next(),
                before.id(),
                kind,
                onDay,
                untilDay,
                laterName == null ? null : before.name(),
                laterName,
                toApiaryId == null ? null : before.apiaryId(),
                toApiaryId,
                otherColonyId,
                substance,
                remarks,
                recordedAt,
                recordedBy,
                null);
    }
}
