package org.evenwash.logger.web;

import java.time.LocalDate;
import java.util.UUID;

/**
 * One wash in a list.
 *
 * @param counted such as {@code 2 in 300}, null until counted
 */
public record WashRow(
        UUID id,
        String colony,
        String apiary,
        LocalDate sampledOn,
        String counted,
        Reading reading,
        boolean simulated) {}
