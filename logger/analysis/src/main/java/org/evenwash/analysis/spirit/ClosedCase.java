package org.evenwash.analysis.spirit;

/**
 * How little spirit makes the air in a closed case explosive: a few drops. Exact for a sealed case in
 * which the liquid has evaporated and mixed evenly; before that, the bottom of the case is richer,
 * since the vapours are heavier than air. A case that leaks is not safer by a known amount.
 */
public final class ClosedCase {
    /** Gas constant, J/(mol·K), and the standard atmosphere, Pa (CODATA, exact). */
    private static final double GAS_J_PER_MOL_K = 8.314462618;

    private static final double ATMOSPHERE_PA = 101_325;

    /** The share of the limit at which gas alarms usually warn; common practice, no source. */
    public static final double ALARM_SHARE = 0.25;

    private ClosedCase() {}

    /** Vapour from one mL of the neat liquid (at 20 °C) as a gas at the given temperature, mL. */
    public static double vapour_mLPerLiquid_mL(Spirit spirit, double celsius) {
        if (!(celsius >= -20 && celsius <= 60)) {
            throw new IllegalArgumentException(
                    "a case is asked about from −20 to 60 °C, not at " + celsius);
        }
        double molesPerLiquid_mL = spirit.density20_kgm3() / 1000 / spirit.gramsPerMol();
        double molarVolume_mL = GAS_J_PER_MOL_K * (celsius + 273.15) / ATMOSPHERE_PA * 1e6;
        return molesPerLiquid_mL * molarVolume_mL;
    }

    /**
     * Neat liquid that brings the case to a share of its lower explosive limit. For thinned spirit
     * the same amount stands as a caution: the spirit evaporates first.
     *
     * @param case_L free volume, more than 0
     * @param limit_percent lower explosive limit, per cent by volume
     * @param share of the limit, above 0 to 1
     */
    public static double liquid_mL(
            Spirit spirit, double case_L, double celsius, double limit_percent, double share) {
        if (!(case_L > 0 && Double.isFinite(case_L))
                || !(limit_percent > 0 && limit_percent < 100)
                || !(share > 0 && share <= 1)) {
            throw new IllegalArgumentException(
                    String.format(
                            "needs a volume above 0 L, a limit between 0 and 100 %% and a share up to"
                                    + " 1, not %s L, %s %%, %s",
                            case_L, limit_percent, share));
        }
        double vapour = limit_percent / 100 * share;
        // The air cannot leave: vapour is added to it, so v/(air + v) = limit.
        double vapour_mL = case_L * 1000 * vapour / (1 - vapour);
        return vapour_mL / vapour_mLPerLiquid_mL(spirit, celsius);
    }

    /** To the whole limit, with the cautious limit of {@link Spirit}. */
    public static double toLimit_mL(Spirit spirit, double case_L, double celsius) {
        return liquid_mL(spirit, case_L, celsius, spirit.lowerExplosiveLimit_percent(), 1);
    }

    /** To a quarter of the limit, where an alarm would sound. */
    public static double toAlarm_mL(Spirit spirit, double case_L, double celsius) {
        return liquid_mL(
                spirit, case_L, celsius, spirit.lowerExplosiveLimit_percent(), ALARM_SHARE);
    }
}
