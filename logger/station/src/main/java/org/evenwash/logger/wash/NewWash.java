package org.evenwash.logger.wash;

import java.time.LocalDate;
import java.util.UUID;
import org.evenwash.logger.store.Frame;
import org.evenwash.logger.store.QueenCheck;

/**
 * A wash as it is planned.
 *
 * @param sampledOn the day in the apiary's time zone, null for today
 * @param operatorId null if not known yet
 * @param frame null reads as NOT_STATED
 * @param queenCheck null reads as NOT_STATED
 */
public record NewWash(
        UUID colonyId,
        LocalDate sampledOn,
        UUID operatorId,
        Frame frame,
        QueenCheck queenCheck,
        String remarks,
        boolean simulated) {

    public static NewWash today(UUID colonyId, UUID operatorId) {
        return new NewWash(colonyId, null, operatorId, null, null, "", false);
    }
}
