package org.evenwash.analysis.spirit;

/**
 * The two washing spirits whose chemistry is modelled. Methylated (denatured) spirit counts as
 * {@link #ETHANOL}: it is mostly that, and its denaturants (a few per cent of methanol or ketones)
 * burn at least as readily, one reason why every flash point here carries a margin.
 *
 * <p>Sources: lower explosive limits as the lowest printed value seen. Ethanol "3–3.3" in a safety
 * list of radon-measurement solvents (AARST SGM-SF; 3.3 is the usual figure, 3.1 that of IEC
 * 60079-20-1, from memory); 2-propanol 2.0 in the NIOSH Pocket Guide, entry 0359. Pure flash points:
 * ethanol 12.8 °C (AARST SGM-SF, closed cup); 2-propanol 53 °F = 11.7 °C (NIOSH entry 0359).
 * Densities at 20 °C: ethanol by OIML R 22; 2-propanol 784.8 kg/m³, CRC Handbook of Chemistry and
 * Physics, 102nd edition. Molar masses from the standard atomic weights. Antoine constants (log10 of mmHg against °C), from memory; the tests
 * check them against the boiling points.
 */
public enum Spirit {
    ETHANOL("ethanol", 46.069, 789.2391233, 3.0, 12.8, 8.20417, 1642.89, 230.300),
    PROPANOL_2("2-propanol", 60.096, 784.8, 2.0, 11.7, 8.11778, 1580.92, 219.61);

    /** The Antoine equation for water, from memory; checked at 25 °C and 100 °C by a test. */
    static final Antoine WATER = new Antoine(8.07131, 1730.63, 233.426);

    static final double WATER_GRAMS_PER_MOL = 18.015;

    private final String word;
    private final double gramsPerMol;
    private final double density20_kgm3;
    private final double lowerExplosiveLimit_percent;
    private final double pureFlashPoint_C;
    private final double antoineA;
    private final double antoineB;
    private final double antoineC;

    Spirit(
            String word,
            double gramsPerMol,
            double density20_kgm3,
            double lowerExplosiveLimit_percent,
            double pureFlashPoint_C,
            double antoineA,
            double antoineB,
            double antoineC) {
        this.word = word;
        this.gramsPerMol = gramsPerMol;
        this.density20_kgm3 = density20_kgm3;
        this.lowerExplosiveLimit_percent = lowerExplosiveLimit_percent;
        this.pureFlashPoint_C = pureFlashPoint_C;
        this.antoineA = antoineA;
        this.antoineB = antoineB;
        this.antoineC = antoineC;
    }

    public String word() {
        return word;
    }

    public double gramsPerMol() {
        return gramsPerMol;
    }

    /** Density of the pure liquid at 20 °C, kg/m³. */
    public double density20_kgm3() {
        return density20_kgm3;
    }

    /** The cautious (lowest printed) lower explosive limit in air, per cent by volume. */
    public double lowerExplosiveLimit_percent() {
        return lowerExplosiveLimit_percent;
    }

    /** Closed-cup flash point of the water-free liquid, °C. */
    public double pureFlashPoint_C() {
        return pureFlashPoint_C;
    }

    Antoine vapour() {
        return new Antoine(antoineA, antoineB, antoineC);
    }

    /** Mole fraction of spirit in a mixture with water, 0 to 1. */
    double moleFraction(double massFraction) {
        double spirit = massFraction / gramsPerMol;
        return spirit / (spirit + (1 - massFraction) / WATER_GRAMS_PER_MOL);
    }

    /** log10(p/mmHg) = a − b/(c + t/°C). */
    record Antoine(double a, double b, double c) {
        double pressure_mmHg(double celsius) {
            return Math.pow(10, a - b / (c + celsius));
        }

        double temperature_C(double pressure_mmHg) {
            return b / (a - Math.log10(pressure_mmHg)) - c;
        }
    }
}
