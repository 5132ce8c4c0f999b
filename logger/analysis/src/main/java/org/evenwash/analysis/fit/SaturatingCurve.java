package org.evenwash.analysis.fit;

import java.util.Optional;

/**
 * y = b1(1 − e^(−b2·x)) by unweighted least squares.
 *
 * <p>For any b2 the best b1 has a closed form, which leaves a search in one dimension (variable
 * projection, Golub &amp; Pereyra 1973, SIAM J. Numer. Anal. 10:413–432). It walks downhill from the
 * start in ln b2 until the slope turns, then solves for the turn; it cannot diverge as Gauss–Newton
 * does from a distant start.
 *
 * @param b1 plateau, in units of y
 * @param b2 rate, per unit of x
 * @param seB1 standard error from the Jacobian
 * @param seB2 likewise
 * @param rss residual sum of squares
 * @param sigma √(rss/(n−2)); infinite standard errors do not occur, n is at least 3
 */
public record SaturatingCurve(
        double b1, double b2, double seB1, double seB2, double rss, double sigma) {

    private static final double FIRST_STEP = 0.05;
    private static final double STEP_GROWTH = 1.5;

    /** ln b2 walks at most this far: e^±60 is past any rate that data could tell from 0 or ∞. */
    private static final double LONGEST_WALK = 60;

    /**
     * The least-squares curve downhill from {@code startB2}; nothing if the best curve from there is
     * a straight line or a constant, or with fewer than 3 points.
     *
     * @param startB2 not 0; its sign is kept (growth that accelerates has a negative rate)
     */
    public static Optional<SaturatingCurve> fit(double[] x, double[] y, double startB2) {
        if (x.length != y.length || !(Math.abs(startB2) > 0)) {
            throw new IllegalArgumentException(
                    x.length
                            + " x, "
                            + y.length
                            + " y, start "
                            + startB2
                            + ": need as many y as x and a start other than 0");
        }
        if (x.length < 3) {
            return Optional.empty();
        }
        double sign = Math.signum(startB2);
        double here = Math.log(Math.abs(startB2));
        double slope = slope(x, y, sign * Math.exp(here));
        double downhill = slope > 0 ? -1 : 1;
        double step = FIRST_STEP;
        for (double walked = 0; walked < LONGEST_WALK; walked += step, step *= STEP_GROWTH) {
            double next = here + downhill * step;
            double nextSlope = slope(x, y, sign * Math.exp(next));
            if (Double.isNaN(nextSlope)) {
                return Optional.empty();
            }
            if (nextSlope * downhill >= 0 && Math.abs(nextSlope) > 0) {
                double root =
                        Search.root(
                                u -> slope(x, y, sign * Math.exp(u)),
                                Math.min(here, next),
                                Math.max(here, next));
                return at(x, y, sign * Math.exp(root));
            }
            here = next;
        }
        return Optional.empty();
    }

    /** Fitted y. */
    public double at(double x) {
        return b1 * -Math.expm1(-b2 * x);
    }

    private static double plateau(double[] x, double[] y, double b2) {
        double top = 0;
        double bottom = 0;
        for (int i = 0; i < x.length; i++) {
            double g = -Math.expm1(-b2 * x[i]);
            top += y[i] * g;
            bottom += g * g;
        }
        return top / bottom;
    }

    /** Slope of the residual sum of squares in ln b2, b1 following, divided by 2|b2|. */
    private static double slope(double[] x, double[] y, double b2) {
        double b1 = plateau(x, y, b2);
        double sum = 0;
        for (int i = 0; i < x.length; i++) {
            double residual = y[i] + b1 * Math.expm1(-b2 * x[i]);
            sum -= residual * b1 * x[i] * Math.exp(-b2 * x[i]);
        }
        return Math.signum(b2) * sum;
    }

    private static Optional<SaturatingCurve> at(double[] x, double[] y, double b2) {
        double b1 = plateau(x, y, b2);
        double rss = 0;
        double aa = 0;
        double ab = 0;
        double bb = 0;
        for (int i = 0; i < x.length; i++) {
            double g = -Math.expm1(-b2 * x[i]);
            double h = b1 * x[i] * Math.exp(-b2 * x[i]);
            double residual = y[i] - b1 * g;
            rss += residual * residual;
            aa += g * g;
            ab += g * h;
            bb += h * h;
        }
        double determinant = aa * bb - ab * ab;
        if (!(determinant > 0) || !Double.isFinite(b1)) {
            return Optional.empty();
        }
        double sigma = Math.sqrt(rss / (x.length - 2));
        return Optional.of(
                new SaturatingCurve(
                        b1,
                        b2,
                        sigma * Math.sqrt(bb / determinant),
                        sigma * Math.sqrt(aa / determinant),
                        rss,
                        sigma));
    }
}
