package org.evenwash.logger.store;

/**
 * How a sample was taken and washed, as far as somebody said; what is null was not stated.
 *
 * @param frames that the bees came from, 1 or more
 * @param liquid_mL in the jar
 * @param beesCovered whether the liquid stood over all bees
 * @param beeSieve_mm mesh of the upper sieve, which holds the bees
 * @param miteSieve_mm mesh of the lower sieve, on which mites stay
 * @param jarWallsChecked whether jar and lid were looked at for mites afterwards
 * @param timesWashed how often the same bees were washed in all, counted or not
 */
public record Handling(
        Integer frames,
        Double liquid_mL,
        Boolean beesCovered,
        Double beeSieve_mm,
        Double miteSieve_mm,
        Boolean jarWallsChecked,
        Integer timesWashed) {

    public static final Handling NOT_STATED =
            new Handling(null, null, null, null, null, null, null);

    /** Of a wash that nobody has touched yet: only what the place itself decides. */
    public static Handling at(Apiary apiary) {
        return new Handling(
                null, null, null, apiary.beeSieve_mm(), apiary.miteSieve_mm(), null, null);
    }
}
