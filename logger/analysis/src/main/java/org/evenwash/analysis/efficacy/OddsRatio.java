package org.evenwash.analysis.efficacy;

import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Roots;
import org.evenwash.analysis.numeric.Steps;

/**
 * Exact conditional 95 % limits of the odds ratio of a 2×2 table (Fisher 1935; Cornfield 1956). With
 * the margins fixed, the first cell follows Fisher's noncentral hypergeometric law.
 */
final class OddsRatio {

    private static final double NEGLIGIBLE = 1e-18;
    private static final double FARTHEST_LOG = 700;
    private static final double STEP = 0.5;

    private final long row1;
    private final long row2;
    private final long column;
    private final long observed;
    private final long least;
    private final long most;

    private OddsRatio(long a, long b, long c, long d) {
        row1 = a + b;
        row2 = c + d;
        column = a + c;
        observed = a;
        least = Math.max(0, column - row2);
        most = Math.min(row1, column);
    }

    /** Limits of (a/b)/(c/d); 0 and {@code +∞} where the observed cell is at the end of its range. */
    static Limits limits(int a, int b, int c, int d) {
        var table = new OddsRatio(a, b, c, d);
        double guess = Math.log((a + 0.5) * (d + 0.5) / ((b + 0.5) * (c + 0.5)));
        double lower = table.observed == table.least ? 0 : Math.exp(table.lowerLog(guess));
        double upper =
                table.observed == table.most
                        ? Double.POSITIVE_INFINITY
                        : Math.exp(table.upperLog(guess));
        return new Limits(lower, upper);
    }

    private double lowerLog(double guess) {
        return Roots.ofIncreasing(
                log -> atLeast(observed, log) - Level.TAIL,
                guess,
                STEP,
                -FARTHEST_LOG,
                FARTHEST_LOG);
    }

    private double upperLog(double guess) {
        return Roots.ofIncreasing(
                log -> Level.TAIL - atMost(observed, log),
                guess,
                STEP,
                -FARTHEST_LOG,
                FARTHEST_LOG);
    }

    private double atLeast(long cell, double logOdds) {
        return share(cell, most, logOdds);
    }

    private double atMost(long cell, double logOdds) {
        return share(least, cell, logOdds);
    }

    /** P(from ≤ cell ≤ to), summed outward from the likeliest cell until terms no longer matter. */
    private double share(long from, long to, double logOdds) {
        double odds = Math.exp(logOdds);
        long mode =
                least == most
                        ? least
                        : Steps.smallestBetween(i -> ratio(i) * odds < 1, least, most - 1);
        double all = 0;
        double inside = 0;
        double weight = 1;
        for (long i = mode; i <= most && weight > NEGLIGIBLE * all; i++) {
            all += weight;
            inside += from <= i && i <= to ? weight : 0;
            weight *= ratio(i) * odds;
        }
        weight = 1;
        for (long i = mode - 1; i >= least; i--) {
            weight /= ratio(i) * odds;
            if (weight <= NEGLIGIBLE * all) {
                break;
            }
            all += weight;
            inside += from <= i && i <= to ? weight : 0;
        }
        return inside / all;
    }

    /** Weight of cell i + 1 over weight of cell i at even odds; falls steadily with i. */
    private double ratio(long i) {
        return (double) (row1 - i) * (column - i) / ((i + 1.0) * (row2 - column + i + 1.0));
    }
}
