package org.evenwash.analysis.recovery;

import org.evenwash.analysis.Require;

/**
 * Three washes of equal effort: the large-sample solution of Zippin's equations (Zippin 1956,
 * Biometrics 12:163–189; Seber 2002, eq. 7.24). All figures are NaN unless the third wash found fewer
 * than the first; {@code seP} also when the second and third found none.
 *
 * @param total mites estimated on the bees
 * @param p share that one wash brings off
 * @param seTotal standard error of {@code total}
 * @param seP standard error of {@code p}
 */
public record ThreePass(double total, double p, double seTotal, double seP) {

    /** From the mites of three washes of the same bees. */
    public static ThreePass of(int c1, int c2, int c3) {
        Require.count("first-wash mites", c1);
        Require.count("second-wash mites", c2);
        Require.count("third-wash mites", c3);
        if (c1 <= c3) {
            return new ThreePass(Double.NaN, Double.NaN, Double.NaN, Double.NaN);
        }
        double x = 2.0 * c1 + c2;
        double y = (double) c1 + c2 + c3;
        double root = Math.sqrt(y * y + 6 * x * y - 3 * x * x);
        double total = (6 * x * x - 3 * x * y - y * y + y * root) / (18 * (x - y));
        double p = (3 * x - y - root) / (2 * x);
        double q = 1 - p;
        double found = 1 - q * q * q;
        // (1−q³)² − 9p²q², written so that nothing cancels for a small p.
        double information = Math.pow(p, 4) * (6 - 6 * p + p * p);
        double seTotal = Math.sqrt(total * found * q * q * q / information);
        double seP =
                c2 == 0 && c3 == 0 ? Double.NaN : p * Math.sqrt(q * found / (total * information));
        return new ThreePass(total, p, seTotal, seP);
    }
}
