package org.evenwash.analysis.spirit;

/**
 * Density of 2-propanol–water mixtures at 20 °C, interpolated in the table "Concentrative properties
 * of aqueous solutions" of the CRC Handbook of Chemistry and Physics, 102nd edition. The
 * International Critical Tables (1928) lie up to 0.6 % higher between 60 and 80 % by mass (from
 * memory), which moves a %vol by less than half a point: far inside the margin of a flash point.
 */
final class PropanolWaterDensity {
    // spotless:off
    private static final double[] PERCENT_MASS = {
        0, 1, 2, 5, 8, 10, 12, 14, 16, 18, 20, 40, 60, 80, 100};
    private static final double[] DENSITY_KGM3 = {
        998.2, 996.0, 993.9, 988.4, 984.3, 981.6, 979.3, 977.2, 975.1, 972.5, 969.6, 930.2, 882.4,
        834.1, 784.8};
    // spotless:on

    private PropanolWaterDensity() {}

    static double density20_kgm3(double massFraction) {
        return Table.at(PERCENT_MASS, DENSITY_KGM3, 100 * massFraction);
    }
}
