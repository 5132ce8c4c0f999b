package org.evenwash.analysis.spirit;

import java.util.Locale;
import java.util.Objects;
import java.util.function.DoubleUnaryOperator;

/**
 * How strong a mixture of one spirit with water is. Labels speak of %vol (volume of pure spirit at
 * 20 °C in 100 volumes of mixture at 20 °C); chemistry speaks of mass. The two differ by up to ten
 * points, so a bare "50 %" never enters this program.
 *
 * @param massFraction 0 (water) to 1 (neat)
 */
public record Strength(Spirit spirit, double massFraction) {

    public Strength {
        Objects.requireNonNull(spirit, "spirit");
        if (!(massFraction >= 0 && massFraction <= 1)) {
            throw new IllegalArgumentException(
                    "a mass fraction lies between 0 and 1, not " + massFraction);
        }
    }

    /** From a label's %vol at 20 °C, 0 to 100. */
    public static Strength ofPercentVol(Spirit spirit, double percentVol) {
        percent(percentVol, "%vol");
        // The neat end is exact: rounding must not push it past the bracket.
        if (percentVol == 100) {
            return new Strength(spirit, 1);
        }
        double wanted_kgm3 = percentVol / 100 * spirit.density20_kgm3();
        return new Strength(spirit, rising(p -> p * density_kgm3(spirit, p, 20) - wanted_kgm3));
    }

    /** From per cent by mass, 0 to 100. */
    public static Strength ofPercentMass(Spirit spirit, double percentMass) {
        return new Strength(spirit, percent(percentMass, "% by mass") / 100);
    }

    /**
     * From a density, as a pycnometer or a density hydrometer gives it.
     *
     * @param celsius −20 to 40 for ethanol (the range of OIML R 22), 20 only for 2-propanol
     */
    public static Strength ofDensity(Spirit spirit, double density_kgm3, double celsius) {
        double water = density_kgm3(spirit, 0, celsius);
        double neat = density_kgm3(spirit, 1, celsius);
        if (!(density_kgm3 <= water && density_kgm3 >= neat)) {
            throw new IllegalArgumentException(
                    String.format(
                            Locale.ROOT,
                            "at %.1f °C a mixture of %s and water weighs %.1f to %.1f kg/m³, not %s",
                            celsius,
                            spirit.word(),
                            neat,
                            water,
                            density_kgm3));
        }
        return new Strength(spirit, rising(p -> density_kgm3 - density_kgm3(spirit, p, celsius)));
    }

    public double percentMass() {
        return 100 * massFraction;
    }

    public double percentVol() {
        return Math.min(100, 100 * massFraction * density20_kgm3() / spirit.density20_kgm3());
    }

    /** Density of the mixture at 20 °C. */
    public double density20_kgm3() {
        return density_kgm3(spirit, massFraction, 20);
    }

    static double density_kgm3(Spirit spirit, double massFraction, double celsius) {
        return switch (spirit) {
            case ETHANOL -> {
                if (!(celsius >= EthanolWaterDensity.LOWEST_C
                        && celsius <= EthanolWaterDensity.HIGHEST_C)) {
                    throw new IllegalArgumentException(
                            "the density formula of OIML R 22 holds from −20 to 40 °C, not at "
                                    + celsius);
                }
                yield EthanolWaterDensity.density_kgm3(massFraction, celsius);
            }
            case PROPANOL_2 -> {
                if (celsius != 20) {
                    throw new IllegalArgumentException(
                            "densities of 2-propanol and water are known to this program at 20 °C"
                                    + " only, not at "
                                    + celsius);
                }
                yield PropanolWaterDensity.density20_kgm3(massFraction);
            }
        };
    }

    private static double percent(double value, String unit) {
        if (!(value >= 0 && value <= 100)) {
            throw new IllegalArgumentException(
                    "a strength lies between 0 and 100 " + unit + ", not " + value);
        }
        return value;
    }

    /** The root of a function that rises over 0 to 1, to the last bit, by halving. */
    static double rising(DoubleUnaryOperator f) {
        double low = 0;
        double high = 1;
        for (int i = 0; i < 60; i++) {
            double middle = (low + high) / 2;
            if (f.applyAsDouble(middle) < 0) {
                low = middle;
            } else {
                high = middle;
            }
        }
        return (low + high) / 2;
    }
}
