package org.evenwash.analysis.spirit;

/**
 * Spirit thinned with water, by volume at 20 °C. The volumes do not add: equal parts of 95 %vol
 * ethanol and water fill 2.9 % less than their sum and come out at 48.9 %vol, not 47.5.
 *
 * @param mixture strength of the mixture
 * @param volume_mL volume of the mixture at 20 °C
 * @param contraction_percent how much less than the sum of the volumes, 0 to about 4
 */
public record Dilution(Strength mixture, double volume_mL, double contraction_percent) {

    /**
     * @param spirit_mL at least 0, with {@code water_mL} more than 0; parts do as well as mL
     */
    public static Dilution of(Strength label, double spirit_mL, double water_mL) {
        if (!(spirit_mL >= 0 && water_mL >= 0)
                || !(spirit_mL + water_mL > 0)
                || Double.isInfinite(spirit_mL + water_mL)) {
            throw new IllegalArgumentException(
                    "volumes must be at least 0 and not both 0: spirit "
                            + spirit_mL
                            + " mL, water "
                            + water_mL
                            + " mL");
        }
        double spiritMass = spirit_mL * label.density20_kgm3();
        double waterMass = water_mL * Strength.density_kgm3(label.spirit(), 0, 20);
        double mass = spiritMass + waterMass;
        Strength mixture = new Strength(label.spirit(), spiritMass * label.massFraction() / mass);
        double volume_mL = mass / mixture.density20_kgm3();
        return new Dilution(mixture, volume_mL, 100 * (1 - volume_mL / (spirit_mL + water_mL)));
    }

    /** Water to add to each mL of label spirit to come down to a wanted strength; mL at 20 °C. */
    public static double water_mLPerSpirit_mL(Strength label, Strength wanted) {
        if (label.spirit() != wanted.spirit()
                || !(wanted.massFraction() > 0)
                || wanted.massFraction() > label.massFraction()) {
            throw new IllegalArgumentException(
                    "water can only thin "
                            + label.spirit().word()
                            + " of "
                            + label.percentVol()
                            + " %vol, not make "
                            + wanted.percentVol()
                            + " %vol of "
                            + wanted.spirit().word());
        }
        double massRatio = label.massFraction() / wanted.massFraction() - 1;
        return massRatio * label.density20_kgm3() / Strength.density_kgm3(label.spirit(), 0, 20);
    }
}
