package org.evenwash.analysis.recovery;

import java.util.List;
import java.util.function.ToDoubleFunction;
import org.evenwash.analysis.numeric.Level;
import org.evenwash.analysis.numeric.Limits;
import org.evenwash.analysis.numeric.Probabilities;
import org.evenwash.analysis.numeric.Quantiles;

/**
 * Recovery pooled over washes whose second wash found all the rest. Washes without a mite say nothing
 * and are left out. A figure that the data do not define is NaN.
 *
 * @param washes washes with at least one mite
 * @param mites all mites in both washes
 * @param p share that the first washes found
 * @param phiRaw Pearson's X² over its degrees of freedom; NaN with one wash
 * @param phi dispersion used: {@code phiRaw}, at least 1
 * @param effectiveSize mites that an evenly mixed sample as informative as this one would hold (Korn
 *     and Graubard 1998, Survey Methodology 24:193–201)
 * @param limits 95 % limits of the mean recovery: Clopper and Pearson on the effective size
 * @param seQuasi standard error by quasi-likelihood
 * @param seRatio standard error of a ratio estimate; for display only below 20 washes
 * @param seJackknife delete-one standard error; for display only below 20 washes
 * @param pearsonP probability of so much variation between washes if there were none
 * @param shrunk (first + ½) / (all + 1), never exactly 0 or 1
 * @param rho intraclass correlation within a wash
 * @param sdOfNewWash standard deviation of the recovery of one new wash
 * @param betaA first shape of that recovery's Beta law; meaningless unless above 0
 * @param betaB second shape
 */
public record RecountSummary(
        int washes,
        int mites,
        double p,
        double phiRaw,
        double phi,
        double effectiveSize,
        Limits limits,
        double seQuasi,
        double seRatio,
        double seJackknife,
        double pearsonP,
        double shrunk,
        double rho,
        double sdOfNewWash,
        double betaA,
        double betaB) {

    private static final double MOST_RHO = 0.9;

    /** Summarises any number of washes, none included. */
    public static RecountSummary of(List<WashPair> all) {
        List<WashPair> pairs = all.stream().filter(pair -> pair.total() > 0).toList();
        int k = pairs.size();
        double total = sum(pairs, WashPair::total);
        double first = sum(pairs, WashPair::first);
        double p = first / total;
        double chi2 = p == 0 || p == 1 ? 0 : pearson(pairs, p);
        double phiRaw = k > 1 ? chi2 / (k - 1) : Double.NaN;
        double phi = phiRaw > 1 ? phiRaw : 1;
        double size = effectiveSize(total, phi, k);
        NewWash next = NewWash.of(pairs, first, total);
        return new RecountSummary(
                k,
                (int) total,
                p,
                phiRaw,
                phi,
                size,
                k == 0 ? new Limits(Double.NaN, Double.NaN) : Limits.ofProportion(size * p, size),
                Math.sqrt(phi * p * (1 - p) / total),
                Math.sqrt(k / (k - 1.0) * squaredErrors(pairs, p)) / total,
                jackknife(pairs, first, total),
                k <= 1 || chi2 == 0 ? 1 : Probabilities.chiSquareAbove(chi2, k - 1),
                next.shrunk,
                next.rho,
                next.sd,
                next.a,
                next.b);
    }

    /** Mean mites in a wash that had any. */
    public double mitesPerWash() {
        return (double) mites / washes;
    }

    private static double effectiveSize(double total, double phi, int k) {
        if (phi == 1) {
            return total;
        }
        // Few washes say little of their own variation: Korn and Graubard's factor for that.
        double few = Level.Z / Quantiles.student95(k - 1);
        return total / phi * few * few;
    }

    private static double jackknife(List<WashPair> pairs, double first, double total) {
        int k = pairs.size();
        if (k < 2) {
            return Double.NaN;
        }
        double[] without =
                pairs.stream()
                        .mapToDouble(pair -> (first - pair.first()) / (total - pair.total()))
                        .toArray();
        double mean = 0;
        for (double share : without) {
            mean += share / k;
        }
        double squares = 0;
        for (double share : without) {
            squares += (share - mean) * (share - mean);
        }
        return Math.sqrt((k - 1.0) / k * squares);
    }

    private static double pearson(List<WashPair> pairs, double p) {
        return sum(
                pairs,
                pair -> {
                    double expected = p * pair.total();
                    double error = pair.first() - expected;
                    return error * error / (expected * (1 - p));
                });
    }

    private static double squaredErrors(List<WashPair> pairs, double p) {
        return sum(pairs, pair -> Math.pow(pair.first() - p * pair.total(), 2));
    }

    private static double sum(List<WashPair> pairs, ToDoubleFunction<WashPair> term) {
        double sum = 0;
        for (WashPair pair : pairs) {
            sum += term.applyAsDouble(pair);
        }
        return sum;
    }

    /** The recovery that one new wash may have: moments, and the Beta law with the same moments. */
    private record NewWash(double shrunk, double rho, double sd, double a, double b) {

        static NewWash of(List<WashPair> pairs, double first, double total) {
            int k = pairs.size();
            double p = (first + 0.5) / (total + 1);
            double perWash = total / k;
            double phi = k > 1 ? Math.max(1, pearson(pairs, p) / (k - 1)) : Double.NaN;
            double rho =
                    perWash <= 1 ? 0 : Math.min(MOST_RHO, Math.max(0, (phi - 1) / (perWash - 1)));
            double variance = phi * p * (1 - p) / (total + 1) + rho * p * (1 - p);
            double f = p * (1 - p) / variance - 1;
            return new NewWash(p, rho, Math.sqrt(variance), p * f, (1 - p) * f);
        }
    }
}
