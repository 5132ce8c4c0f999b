package org.evenwash.logger.store;

import java.time.Instant;
import java.time.LocalDate;
import java.util.UUID;
import org.jdbi.v3.core.mapper.Nested;

/**
 * A sample of bees from one colony, and what is known about it.
 *
 * @param apiaryId where the colony stood on that day
 * @param sampledOn the day in the apiary's time zone
 * @param bees null until known; with decimals where estimated
 * @param beesLogSd standard deviation of ln(bees) where estimated and known, else null
 * @param rinses null if not stated
 * @param simulated never enters calibration, consistency or trend outside a demonstration
 * @param removedAt when it was taken off the lists as a mistake, else null
 */
public record Wash(
        UUID id,
        UUID colonyId,
        UUID apiaryId,
        LocalDate sampledOn,
        UUID operatorId,
        Frame frame,
        QueenCheck queenCheck,
        BeeMeasure beeMeasure,
        Double bees,
        Double beesLogSd,
        Double sampleMass_g,
        UUID beesCountedBy,
        Integer rinses,
        @Nested Handling handling,
        String remarks,
        boolean simulated,
        Instant plannedAt,
        Instant removedAt,
        long version) {}
