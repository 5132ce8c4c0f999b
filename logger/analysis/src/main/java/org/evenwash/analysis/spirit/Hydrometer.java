package org.evenwash.analysis.spirit;

/**
 * What a glass alcoholometer marked in %vol at 20 °C really found when it floated in spirit of
 * another temperature. The float settles where the displaced mass equals its own, so the liquid's
 * density is that of the mark at 20 °C, divided by the growth of the glass; OIML R 22 then gives the
 * strength that has this density at this temperature. For 2-propanol no such formula is known here:
 * read its density at 20 °C and use {@link Strength#ofDensity}.
 */
public final class Hydrometer {
    /** Cubic expansion of soda-lime glass, per K; ISO 387 and the tables of OIML R 22, from memory. */
    public static final double SODA_GLASS_PER_K = 25e-6;

    private Hydrometer() {}

    /**
     * @param reading_percentVol the mark read, 0 to 100 %vol at 20 °C
     * @param celsius temperature of the spirit, −20 to 40
     * @return the true strength; readings that no mixture can give are refused
     */
    public static Strength ethanol(double reading_percentVol, double celsius) {
        double mark_kgm3 =
                Strength.ofPercentVol(Spirit.ETHANOL, reading_percentVol).density20_kgm3();
        double growth = 1 + SODA_GLASS_PER_K * (celsius - 20);
        return Strength.ofDensity(Spirit.ETHANOL, mark_kgm3 / growth, celsius);
    }
}
