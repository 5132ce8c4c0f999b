package org.evenwash.logger.store;

import java.time.Instant;
import java.util.UUID;

/**
 * A calibration with all it was made of. It is never changed, only taken into use and out of it.
 *
 * @param benchId null where it holds for any bench
 * @param recipeId null where it does not belong to one recipe
 * @param recipeVersion with the recipe
 * @param inputsJson the readings
 * @param resultJson what came out, in full digits and in words
 * @param simulated made from simulated washes: of no use outside a demonstration
 * @param usedFrom null until it is used
 * @param usedUntil null while it is used
 */
public record Calibration(
        UUID id,
        CalibrationKind kind,
        String name,
        String benchId,
        String recipeId,
        Integer recipeVersion,
        String inputsJson,
        String resultJson,
        String methodVersion,
        boolean simulated,
        Instant madeAt,
        UUID madeBy,
        Instant usedFrom,
        Instant usedUntil) {

    public boolean inUse() {
        return usedFrom != null && usedUntil == null;
    }
}
