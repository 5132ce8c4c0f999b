/**
 * Quantiles, tail probabilities and root finding that the estimators share.
 *
 * <p>Hipparchus supplies the incomplete gamma and beta functions; its own quantiles stop at an absolute error of 1e-9, which
 * is too coarse for limits near zero, so the roots are found here on a log or logit scale.
 */
package org.evenwash.analysis.numeric;
