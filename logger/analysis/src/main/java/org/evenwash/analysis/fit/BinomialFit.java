package org.evenwash.analysis.fit;

/**
 * A binomial regression at its maximum of likelihood, P = link⁻¹(b0 + b1·dose).
 *
 * @param b0 intercept
 * @param b1 slope per unit of dose
 * @param seB0 standard error from the expected information, not scaled by dispersion
 * @param seB1 likewise
 * @param covariance of b0 and b1, likewise
 * @param deviance against a fit that meets every row
 * @param df rows with at least one trial, less 2
 * @param pearson Pearson's X²
 * @param loglik with the binomial coefficients
 * @param medianDose dose at which P = ½; infinite where the line is flat
 */
public record BinomialFit(
        Link link,
        double b0,
        double b1,
        double seB0,
        double seB1,
        double covariance,
        double deviance,
        int df,
        double pearson,
        double loglik,
        double medianDose) {

    /** Fitted probability at {@code dose}. */
    public double probability(double dose) {
        return link.probability(b0 + b1 * dose);
    }
}
