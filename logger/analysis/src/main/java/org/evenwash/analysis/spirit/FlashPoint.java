package org.evenwash.analysis.spirit;

import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The temperature from which the vapour over a liquid can be lit: what the model says, what the
 * printed table says, and the cautious value, which alone may go to interlocks and warnings.
 *
 * <p><b>Model</b> (Liaw and Chiu, J. Hazard. Mater. 101 (2003) 83–106): the mixture flashes where
 * x·γ(x)·p(T) reaches the pressure that the water-free spirit has at its own flash point; water does
 * not burn. The activity coefficient γ is van Laar's. Ethanol: 1.6798 and 0.9227, as printed in the
 * documentation of the thermodynamics package TermoQuimica.jl. 2-propanol: both constants follow from
 * the azeotrope with water, 87.9 % by mass (printed in several places) boiling at 80.37 °C (from
 * memory), as van Laar's equations allow.
 *
 * <p><b>Table</b>, ethanol only: 5 to 96 % against 62 to 17 °C, printed by engineeringtoolbox.com as
 * per cent by mass and in a chemical-safety mailing list (ilpi.com/dchas, 2015-01-28) as %vol. The
 * lower of the two readings for a given liquid is %vol, so it is read as that.
 *
 * <p><b>How far they disagree</b>: from 5 to 96 % the model lies within 2 °C of the table read as
 * %vol; of the table read as per cent by mass it lies within 3 °C from 20 % up, but 6 °C below at 5
 * and 10 %. The cautious value is the lower of model and table less 3 °C. For 2-propanol no table
 * over strengths could be read, only single closed-cup values: neat 53 °F (NIOSH Pocket Guide 0359)
 * and, for 70 % by mass, 18.3 to 24 °C (a supplier's safety data sheet of 2015-06-15; another prints
 * 18 °C for "70 %"); the model says 19.3 °C there. The cautious value is the model less 5 °C, the accuracy
 * that Astbury et al. (IChemE Symp. Ser. 150, 2004) found for such predictions. Denaturants are not
 * modelled.
 *
 * @param model_C by the model
 * @param table_C by the table, where it has an answer
 * @param cautious_C what to act on
 */
public record FlashPoint(double model_C, OptionalDouble table_C, double cautious_C) {
    /** Taken off where a table stands beside the model: the two readings of its heading. */
    public static final double MARGIN_WITH_TABLE_C = 3;

    /** Taken off where nothing stands beside the model. */
    public static final double MARGIN_MODEL_ALONE_C = 5;

    // spotless:off
    private static final double[] TABLE_PERCENT = {5, 10, 20, 30, 40, 50, 60, 70, 80, 90, 96};
    private static final double[] TABLE_C = {62, 49, 36, 29, 26, 24, 22, 21, 20, 17, 17};
    // spotless:on

    private static final VanLaar ETHANOL = new VanLaar(1.6798, 0.9227);
    private static final VanLaar PROPANOL_2 =
            VanLaar.fromAzeotrope(Spirit.PROPANOL_2, 0.879, 80.37);

    /** Above this the liquid boils before its vapour could be lit, and the model says nothing. */
    private static final double HIGHEST_C = 100;

    /**
     * @return empty for water and for mixtures so weak that the model puts them above 100 °C; that is
     *     no promise that they cannot burn: weak solutions stay flammable (Janès and Chaineaux, Chem.
     *     Eng. Trans. 31 (2013) 943–948)
     */
    public static Optional<FlashPoint> of(Strength strength) {
        double x = strength.spirit().moleFraction(strength.massFraction());
        if (x == 0) {
            return Optional.empty();
        }
        Spirit.Antoine vapour = strength.spirit().vapour();
        double needed_mmHg = vapour.pressure_mmHg(strength.spirit().pureFlashPoint_C());
        double pure_mmHg = needed_mmHg / (x * model(strength.spirit()).gamma(x));
        double model_C = vapour.temperature_C(pure_mmHg);
        if (!(model_C > -273 && model_C <= HIGHEST_C)) {
            return Optional.empty();
        }
        OptionalDouble table_C = table(strength);
        double cautious_C =
                table_C.isPresent()
                        ? Math.min(model_C, table_C.getAsDouble()) - MARGIN_WITH_TABLE_C
                        : model_C - margin_C(strength.spirit());
        return Optional.of(new FlashPoint(model_C, table_C, cautious_C));
    }

    private static double margin_C(Spirit spirit) {
        return switch (spirit) {
            case ETHANOL -> MARGIN_WITH_TABLE_C;
            case PROPANOL_2 -> MARGIN_MODEL_ALONE_C;
        };
    }

    private static VanLaar model(Spirit spirit) {
        return switch (spirit) {
            case ETHANOL -> ETHANOL;
            case PROPANOL_2 -> PROPANOL_2;
        };
    }

    private static OptionalDouble table(Strength strength) {
        // A conversion from %vol and back may miss the ends of the table by a rounding error.
        double percentVol = Math.rint(strength.percentVol() * 1e9) / 1e9;
        boolean printed =
                strength.spirit() == Spirit.ETHANOL && percentVol >= 5 && percentVol <= 96;
        return printed
                ? OptionalDouble.of(Table.at(TABLE_PERCENT, TABLE_C, percentVol))
                : OptionalDouble.empty();
    }

    /**
     * Activity of the spirit (1) in water (2), van Laar: ln γ1 = a12·(a21 x2/(a12 x1 + a21 x2))².
     */
    record VanLaar(double a12, double a21) {
        double gamma(double x1) {
            double x2 = 1 - x1;
            double share = a21 * x2 / (a12 * x1 + a21 * x2);
            return Math.exp(a12 * share * share);
        }

        /** At the azeotrope vapour and liquid agree, so γ = 760 mmHg / p of each pure liquid. */
        static VanLaar fromAzeotrope(Spirit spirit, double massFraction, double boiling_C) {
            double x1 = spirit.moleFraction(massFraction);
            double ln1 = Math.log(760 / spirit.vapour().pressure_mmHg(boiling_C));
            double ln2 = Math.log(760 / Spirit.WATER.pressure_mmHg(boiling_C));
            double ratio = (1 - x1) * ln2 / (x1 * ln1);
            return new VanLaar(ln1 * square(1 + ratio), ln2 * square(1 + 1 / ratio));
        }

        private static double square(double value) {
            return value * value;
        }
    }
}
