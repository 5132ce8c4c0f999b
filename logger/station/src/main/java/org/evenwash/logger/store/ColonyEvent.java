package org.evenwash.logger.store;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;

/**
 * Something dated that happened to a colony.
 *
 * @param untilDay last day of a treatment that lasts, else null
 * @param otherColonyId with SPLIT the new colony, with MERGE the one that goes on
 * @param substance with TREATMENT the active substance
 * @param withdrawnAt when the entry was taken back as a mistake; it is kept
 */
public record ColonyEvent(
        UUID id,
        UUID colonyId,
        Kind kind,
        LocalDate onDay,
        LocalDate untilDay,
        String earlierName,
        String laterName,
        UUID fromApiaryId,
        UUID toApiaryId,
        UUID otherColonyId,
        String substance,
        String remarks,
        Instant recordedAt,
        UUID recordedBy,
        Instant withdrawnAt) {

    /** The last day of what lasts, else the day itself. */
    public LocalDate lastDay() {
        return untilDay == null ? onDay : untilDay;
    }

    public enum Kind {
        RENAME(false),
        MOVE(false),
        REQUEEN(true),
        SPLIT(true),
        MERGE(true),
        SWARM(false),
        DEATH(false),
        TREATMENT(true);

        private final boolean breaksTrend;

        Kind(boolean breaksTrend) {
            this.breaksTrend = breaksTrend;
        }

        /** Whether washes before and after it belong to different trends. */
        public boolean breaksTrend() {
            return breaksTrend;
        }
    }
}
