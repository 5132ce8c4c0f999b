package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.UUID;
import org.evenwash.record.Pass;

/** One count of a catch that was counted more than once; {@code operator} null if nobody is named. */
public record CatchCount(
        UUID washId,
        UUID passId,
        Pass pass,
        String colony,
        LocalDate sampledOn,
        UUID operatorId,
        String operator,
        int mites,
        boolean recount,
        boolean blind) {}
