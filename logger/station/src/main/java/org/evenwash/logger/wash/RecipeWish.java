package org.evenwash.logger.wash;

/**
 * A recipe to be made from an agitation time.
 *
 * @param share of the mites to bring off, one of {@link AgitationStudy#SHARES}
 * @param aim which end of the interval to take
 * @param baseRecipeId of the recipe that lends speed, ramps, tolerances and longest hold
 * @param bouts 1 to 20, of equal length
 * @param rest_s between bouts, 0 to 600
 * @param name null for one made of time and bouts
 */
public record RecipeWish(
        double share,
        Aim aim,
        String baseRecipeId,
        int baseVersion,
        int bouts,
        double rest_s,
        String name) {

    /** Which time of an interval. */
    public enum Aim {
        /** The upper limit: the cautious one. */
        UPPER_LIMIT,
        ESTIMATE
    }
}
