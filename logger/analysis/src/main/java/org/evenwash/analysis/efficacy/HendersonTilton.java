package org.evenwash.analysis.efficacy;

import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;

/**
 * Efficacy of a treatment beside an untreated control, in per cent (Henderson and Tilton 1955, J. Econ.
 * Entomol. 48:157–161): what the treated lost beyond what the control lost.
 *
 * @param efficacy 100·(1 − R) with R the ratio of ratios; ½ is added to all counts if any is 0
 * @param seLog standard error of ln R
 * @param wald 95 % limits on the log scale, for display
 * @param exact 95 % limits by the exact conditional method, for claims; lower may be {@code -∞}
 */
public record HendersonTilton(double efficacy, double seLog, Limits wald, Limits exact) {

    public static HendersonTilton of(BeforeAfter treated, BeforeAfter control) {
        int ta = treated.after().mites();
        int tb = treated.before().mites();
        int ca = control.after().mites();
        int cb = control.before().mites();
        double factor = treated.beeFactor() / control.beeFactor();
        double half = ta == 0 || tb == 0 || ca == 0 || cb == 0 ? 0.5 : 0;
        double ratio = factor * (ta + half) * (cb + half) / ((tb + half) * (ca + half));
        double se =
                Math.sqrt(1 / (ta + half) + 1 / (tb + half) + 1 / (ca + half) + 1 / (cb + half));
        Limits odds = OddsRatio.limits(ta, tb, ca, cb);
        return new HendersonTilton(
                100 * (1 - ratio),
                se,
                efficacy(ratio * Math.exp(-Level.Z * se), ratio * Math.exp(Level.Z * se)),
                efficacy(odds.lower() * factor, odds.upper() * factor));
    }

    private static Limits efficacy(double lowerRatio, double upperRatio) {
        return new Limits(100 * (1 - upperRatio), 100 * (1 - lowerRatio));
    }
}
