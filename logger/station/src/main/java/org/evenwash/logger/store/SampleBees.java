package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.UUID;

/** How many bees a sample held; {@code operator} null if nobody is named. */
public record SampleBees(
        UUID washId,
        LocalDate sampledOn,
        String colony,
        String operator,
        double bees,
        BeeMeasure beeMeasure) {}
