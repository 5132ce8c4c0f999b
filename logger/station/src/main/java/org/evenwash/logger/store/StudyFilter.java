package org.evenwash.logger.store;

import java.time.LocalDate;
import java.util.UUID;

/**
 * Which washes a study looks at; what is null narrows nothing.
 *
 * @param recipeId of the first wash; {@link #BY_HAND} for washes without a bench
 * @param recipeVersion with the recipe
 * @param from first day of the sample
 * @param to last day of the sample
 * @param least_s agitation of the first wash
 * @param most_s agitation of the first wash
 */
public record StudyFilter(
        UUID apiaryId,
        UUID operatorId,
        String benchId,
        String recipeId,
        Integer recipeVersion,
        LocalDate from,
        LocalDate to,
        Double least_s,
        Double most_s) {
    /** In place of a recipe. */
    public static final String BY_HAND = "";

    public static final StudyFilter ALL =
            new StudyFilter(null, null, null, null, null, null, null, null, null);

    public boolean byHand() {
        return BY_HAND.equals(recipeId);
    }

    /** The same, for one recipe. */
    public StudyFilter of(String recipe, Integer version) {
        return new StudyFilter(
                apiaryId, operatorId, benchId, recipe, version, from, to, least_s, most_s);
    }
}
