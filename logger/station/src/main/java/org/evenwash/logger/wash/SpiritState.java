package org.evenwash.logger.wash;

/**
 * What is in the jar of a batch at one moment. The strength is a range, since nobody knows how much of
 * what evaporated was spirit: the weaker end counts for washing, the stronger for fire.
 *
 * @param weakest_pctVol null if unknown
 * @param strongest_pctVol null if unknown
 * @param flashPoint_C the cautious (lowest) value, null if unknown
 * @param how in words what the strength rests on; empty without one
 */
public record SpiritState(
        Double weakest_pctVol, Double strongest_pctVol, Double flashPoint_C, String how) {

    /** Whether both ends of the strength are known. */
    public boolean hasStrength() {
        return weakest_pctVol != null && strongest_pctVol != null;
    }
}
