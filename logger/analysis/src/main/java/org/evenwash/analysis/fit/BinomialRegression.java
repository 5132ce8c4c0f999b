package org.evenwash.analysis.fit;

import java.util.Optional;

/**
 * Binomial regression on one dose by Fisher scoring (iteratively reweighted least squares) with
 * step halving. The log-likelihood of all three links is concave, so a step that does not climb is
 * only too long.
 *
 * <p>A finite maximum exists unless some dose separates hits from misses (Silvapulle 1981, J. R.
 * Stat. Soc. B 43:310–313); that is tested beforehand, so that no fit is reported which only
 * stopped on its way to infinity.
 */
public final class BinomialRegression {

    private static final int MAX_STEPS = 500;
    private static final int MAX_HALVINGS = 40;
    private static final double INFINITE = Double.POSITIVE_INFINITY;

    private final Link link;
    private final double[] dose;
    private final double[] hits;
    private final double[] misses;
    private final int rows;

    /** Centre and scale of the dose: the line is fitted to (dose − centre)/scale. */
    private final double centre;

    private final double scale;

    private BinomialRegression(Link link, double[] dose, double[] hits, double[] misses) {
        this.link = link;
        this.dose = dose.clone();
        this.hits = hits;
        this.misses = misses;
        int used = 0;
        double weight = 0;
        double sum = 0;
        for (int i = 0; i < dose.length; i++) {
            double n = hits[i] + misses[i];
            used += n > 0 ? 1 : 0;
            weight += n;
            sum += n * dose[i];
        }
        rows = used;
        centre = sum / weight;
        double squares = 0;
        for (int i = 0; i < dose.length; i++) {
            squares += (hits[i] + misses[i]) * (dose[i] - centre) * (dose[i] - centre);
        }
        scale = Math.sqrt(squares / weight);
        for (int i = 0; i < dose.length; i++) {
            this.dose[i] = (dose[i] - centre) / scale;
        }
    }

    /**
     * The fit, or nothing where the likelihood has no finite maximum: one dose only, hits or misses
     * only, or a dose that separates them; nor where rows are so far apart that doubles cannot hold it.
     *
     * @param dose finite
     * @param hits at each dose, 0 or more
     * @param misses at each dose, 0 or more; rows without trials are left out
     */
    public static Optional<BinomialFit> fit(
            Link link, double[] dose, double[] hits, double[] misses) {
        if (dose.length != hits.length || dose.length != misses.length) {
            throw new IllegalArgumentException(
                    "doses, hits and misses differ in number: "
                            + dose.length
                            + ", "
                            + hits.length
                            + ", "
                            + misses.length);
        }
        return separated(dose, hits, misses)
                ? Optional.empty()
                : new BinomialRegression(link, dose, hits, misses).climb();
    }

    /** Whether some dose has hits only on one side of it and misses only on the other. */
    static boolean separated(double[] dose, double[] hits, double[] misses) {
        double lowHit = Double.POSITIVE_INFINITY;
        double highHit = Double.NEGATIVE_INFINITY;
        double lowMiss = Double.POSITIVE_INFINITY;
        double highMiss = Double.NEGATIVE_INFINITY;
        for (int i = 0; i < dose.length; i++) {
            if (hits[i] > 0) {
                lowHit = Math.min(lowHit, dose[i]);
                highHit = Math.max(highHit, dose[i]);
            }
            if (misses[i] > 0) {
                lowMiss = Math.min(lowMiss, dose[i]);
                highMiss = Math.max(highMiss, dose[i]);
            }
        }
        return lowHit >= highMiss || lowMiss >= highHit;
    }

    private Optional<BinomialFit> climb() {
        double x = 0;
        double y = 0;
        for (int i = 0; i < dose.length; i++) {
            x += hits[i];
            y += misses[i];
        }
        double a = link.line(x / (x + y));
        double b = 0;
        double height = kernel(a, b);
        for (int step = 0; step < MAX_STEPS; step++) {
            Information at = new Information(a, b);
            double da = at.stepA();
            double db = at.stepB();
            if (!Double.isFinite(da) || !Double.isFinite(db)) {
                return Optional.empty();
            }
            double part = 1;
            double next = kernel(a + da, b + db);
            for (int half = 0; half < MAX_HALVINGS && !(next > height); half++) {
                part /= 2;
                next = kernel(a + part * da, b + part * db);
            }
            boolean still = Math.abs(da) + Math.abs(db) <= 1e-12 * (1 + Math.abs(a) + Math.abs(b));
            if (still || !(next > height)) {
                // Near the top rounding hides the climb; a full Fisher step is still the better
                // end.
                boolean close =
                        Math.abs(da) + Math.abs(db) < 1e-6 * (1 + Math.abs(a) + Math.abs(b));
                return close
                        ? Optional.of(result(a + da, b + db)).filter(this::finite)
                        : Optional.empty();
            }
            a += part * da;
            b += part * db;
            height = next;
        }
        return Optional.empty();
    }

    private boolean finite(BinomialFit fit) {
        return Double.isFinite(fit.b0()) && fit.seB0() < INFINITE && fit.seB1() < INFINITE;
    }

    private double kernel(double a, double b) {
        double sum = 0;
        for (int i = 0; i < dose.length; i++) {
            double eta = a + b * dose[i];
            sum +=
                    Binomials.kernel(
                            hits[i], misses[i], link.probability(eta), link.complement(eta));
        }
        return sum;
    }

    private BinomialFit result(double a, double b) {
        Information information = new Information(a, b);
        double loglik = 0;
        double deviance = 0;
        double pearson = 0;
        for (int i = 0; i < dose.length; i++) {
            double x = hits[i];
            double y = misses[i];
            if (x + y > 0) {
                double p = link.probability(a + b * dose[i]);
                double r = link.complement(a + b * dose[i]);
                loglik += Binomials.logChoose(x, y) + Binomials.kernel(x, y, p, r);
                deviance += Binomials.deviance(x, y, p, r);
                pearson += Binomials.pearson(x, y, p, r);
            }
        }
        double shift = centre / scale;
        double b1 = b / scale;
        double b0 = a - b * shift;
        double v11 = information.varianceB() / (scale * scale);
        double v01 = (information.covariance() - shift * information.varianceB()) / scale;
        double v00 =
                information.varianceA()
                        - 2 * shift * information.covariance()
                        + shift * shift * information.varianceB();
        return new BinomialFit(
                link,
                b0,
                b1,
                Math.sqrt(Math.max(0, v00)),
                Math.sqrt(v11),
                v01,
                deviance,
                rows - 2,
                pearson,
                loglik,
                b == 0 ? INFINITE : centre + scale * (link.line(0.5) - a) / b);
    }

    /** Score and expected information of the centred line. */
    private final class Information {
        private double scoreA;
        private double scoreB;
        private double aa;
        private double ab;
        private double bb;

        Information(double a, double b) {
            for (int i = 0; i < dose.length; i++) {
                double n = hits[i] + misses[i];
                double eta = a + b * dose[i];
                double p = link.probability(eta);
                double r = link.complement(eta);
                double slope = link.slope(eta);
                if (n == 0 || slope == 0 || p == 0 || r == 0) {
                    continue; // so far out that the row no longer informs the line
                }
                double score = (hits[i] * r - misses[i] * p) * (slope / p) / r;
                double weight = n * (slope / p) * (slope / r);
                scoreA += score;
                scoreB += score * dose[i];
                aa += weight;
                ab += weight * dose[i];
                bb += weight * dose[i] * dose[i];
            }
        }

        double determinant() {
            return aa * bb - ab * ab;
        }

        double stepA() {
            return (bb * scoreA - ab * scoreB) / determinant();
        }

        double stepB() {
            return (aa * scoreB - ab * scoreA) / determinant();
        }

        double varianceA() {
            return bb / determinant();
        }

        double varianceB() {
            return aa / determinant();
        }

        double covariance() {
            return -ab / determinant();
        }
    }
}
